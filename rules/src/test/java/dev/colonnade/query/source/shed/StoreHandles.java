package dev.colonnade.query.source.shed;

import java.util.List;
import org.jdbi.v3.core.Jdbi;

/** Statements that are given to handles, with what is defined for their attributes. */
public record StoreHandles(Jdbi jdbi) {
  private static final String TABLE = "dry_" + "shed";

  /** Defined at once, and by what is chosen. */
  public List<Integer> find(boolean all) {
    return jdbi.withHandle(
        handle ->
            handle
                .createQuery("select id from <table> where id = :id <open> order by <column>")
                .define("table", TABLE)
                .define("open", all ? "" : "and not closed")
                .bind("id", 1)
                .define("column", "code")
                .mapTo(Integer.class)
                .list());
  }

  /** Beside a list. */
  public int remove(List<Integer> ids) {
    return jdbi.withHandle(
        handle ->
            handle
                .createUpdate("delete from <table> where id in (<ids>) and id \\<> 7")
                .bindList("ids", ids)
                .define("table", "shed")
                .execute());
  }

  /** A text that a lambda captures. */
  public List<String> codes(boolean closed) {
    String sql = "select code from shed";
    if (closed) {
      sql += " where closed";
    }
    String text = sql;
    return jdbi.withHandle(handle -> handle.createQuery(text).mapTo(String.class).list());
  }

  /** A builder that a lambda captures. */
  public List<String> listed(boolean closed) {
    StringBuilder sql = new StringBuilder("select code from crane");
    if (closed) {
      sql.append(" where closed");
    }
    sql.append(" order by code");
    return jdbi.withHandle(handle -> handle.createQuery(sql.toString()).mapTo(String.class).list());
  }

  /** A builder to which the lambda adds what is not looked at. */
  public List<String> limited(int most) {
    StringBuilder sql = new StringBuilder("select code from crane");
    return jdbi.withHandle(
        handle -> {
          sql.append(" limit ").append(most);
          return handle.createQuery(sql.toString()).mapTo(String.class).list();
        });
  }

  /** What only the caller knows. */
  public List<Integer> ids(String table) {
    return jdbi.withHandle(
        handle ->
            handle
                .createQuery("select id from <table>")
                .define("table", table)
                .mapTo(Integer.class)
                .list());
  }
}
