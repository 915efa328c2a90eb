package dev.colonnade.query.source.shed;

import java.util.List;
import org.jdbi.v3.sqlobject.customizer.Bind;
import org.jdbi.v3.sqlobject.customizer.BindList;
import org.jdbi.v3.sqlobject.customizer.Define;
import org.jdbi.v3.sqlobject.statement.SqlQuery;
import org.jdbi.v3.sqlobject.statement.SqlUpdate;

/** SQL objects whose statements are the same but for what each of them defines. */
public interface Stores {
  /** What all of them do. */
  interface Store {
    String table();

    default String codeColumn() {
      return "code";
    }

    default String open(boolean all) {
      return all ? "" : " and not closed";
    }

    @SqlQuery("select id from <table> where id = :id<open>")
    List<Integer> find(
        @Define("table") String table, @Bind("id") int id, @Define("open") String open);

    default List<Integer> find(int id, boolean all) {
      return find(table(), id, open(all));
    }

    @SqlQuery("select id from <table> where <column> = :code")
    List<Integer> byCode(
        @Define("table") String table, @Define("column") String column, @Bind("code") String code);

    default List<Integer> byCode(String code) {
      return byCode(table(), codeColumn(), code);
    }

    @SqlUpdate("delete from <table> where id in (<ids>)")
    int remove(@Define("table") String table, @BindList("ids") List<Integer> ids);

    default int remove(List<Integer> ids) {
      return remove(table(), ids);
    }

    @SqlQuery("select id from shed order by <column>")
    List<Integer> ordered(@Define("column") String column);

    @SqlQuery("select count(*) from <table> where id > :least")
    int sized(@Define("table") String table, @Bind("least") int least);

    default int sized(int least) {
      return sized(table(), least);
    }

    @SqlQuery("select count(*) from <table> where <rest>")
    int size(@Define("table") String table, @Define("rest") String rest);
  }

  /** Sheds. */
  interface Sheds extends Store {
    @Override
    default String table() {
      return "shed";
    }
  }

  /** Sheds that another type builds upon. */
  interface DrySheds extends Sheds {
    String TABLE = "dry_" + "shed";

    @Override
    default String table() {
      return TABLE;
    }
  }

  /** Stores that are called something else. */
  interface Cranes extends Store {
    @Override
    default String table() {
      return "crane";
    }

    @Override
    default String codeColumn() {
      return "upper(code)";
    }

    @Override
    default int sized(int least) {
      return least;
    }
  }

  /** A caller from outside, which gives what it is given, too. */
  record Port(Store store) {
    int sheds() {
      return store.size("shed", "1 = 1");
    }

    List<Integer> ordered(String column) {
      return store.ordered(column);
    }
  }
}
