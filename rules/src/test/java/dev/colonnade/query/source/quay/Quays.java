package dev.colonnade.query.source.quay;

import java.util.List;
import org.jdbi.v3.sqlobject.config.RegisterBeanMapper;
import org.jdbi.v3.sqlobject.customizer.Bind;
import org.jdbi.v3.sqlobject.customizer.BindBean;
import org.jdbi.v3.sqlobject.customizer.BindBeanList;
import org.jdbi.v3.sqlobject.customizer.BindList;
import org.jdbi.v3.sqlobject.customizer.BindMethods;
import org.jdbi.v3.sqlobject.customizer.Define;
import org.jdbi.v3.sqlobject.customizer.DefineList;
import org.jdbi.v3.sqlobject.locator.UseClasspathSqlLocator;
import org.jdbi.v3.sqlobject.statement.GetGeneratedKeys;
import org.jdbi.v3.sqlobject.statement.SqlBatch;
import org.jdbi.v3.sqlobject.statement.SqlQuery;
import org.jdbi.v3.sqlobject.statement.SqlUpdate;
import org.jdbi.v3.sqlobject.statement.UseRowMapper;
import org.jdbi.v3.sqlobject.transaction.Transaction;
import org.jdbi.v3.stringtemplate4.UseStringTemplateEngine;

/** A data access object as Jdbi knows it, with its statements in annotations and in files. */
@RegisterBeanMapper(Quay.class)
public interface Quays extends QuayParts {
  String COLUMNS = "q.id, q.name";
  String BY_NAME = "select " + COLUMNS + " from quay q where q.name = :name";

  @SqlQuery(BY_NAME)
  List<Quay> byName(String name);

  @SqlQuery(
      """
      select q.id, q.name
      from quay q
      where q.depth >= :depth
        and q.name like :prefix || '%' -- it's a prefix
      order by q.name
      limit :size offset :from
      """)
  List<Quay> page(double depth, String prefix, int size, int from);

  @SqlQuery("select count(*) from quay where id in (<ids>)")
  long count(@BindList("ids") List<Long> ids);

  @SqlQuery("select count(*) from quay where (id, name) in (<keys>)")
  long keys(
      @BindBeanList(
              value = "keys",
              propertyNames = {"id", "name"})
          List<Quay> quays);

  @SqlUpdate("insert into quay (id, name, depth) values (:id, :name, :depth)")
  @GetGeneratedKeys
  long add(@BindBean Quay quay);

  @SqlBatch("insert into quay (id, name) values (:q.id, :q.name)")
  void addAll(@BindBean("q") List<Quay> quays);

  @SqlUpdate("update quay set depth = :depth where id = :id and depth \\<> :depth")
  int deepen(@Bind("id") long id, @Bind("depth") double depth);

  @SqlUpdate("delete from quay where id = :getId")
  @Transaction
  void remove(@BindMethods Quay quay);

  @SqlQuery("select count(*) from quay where length(name) > ?")
  long positional(int length);

  @UseStringTemplateEngine
  @SqlQuery(
      "select q.id, q.name from quay q where 1 = 1"
          + " <if(named)>and q.name = :name<endif>"
          + " <if(deep)>and q.depth > 9<else>and q.depth is not null<endif>")
  List<Quay> either(@Define("named") boolean named, @Define("deep") boolean deep, String name);

  @SqlQuery("select count(*) from quay order by <column>")
  List<Long> sorted(@Define("column") String column);

  @SqlQuery("select <columns> from quay where id = :id")
  @UseRowMapper(QuayMapper.class)
  List<Quay> some(@DefineList("columns") List<String> columns, long id);

  @UseClasspathSqlLocator
  @SqlQuery
  List<Quay> deepest();

  @UseClasspathSqlLocator
  @SqlUpdate("tidy")
  int inAnotherFile();
}
