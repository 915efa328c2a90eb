package dev.colonnade.query.source.quay;

import java.util.List;
import org.jdbi.v3.sqlobject.customizer.Bind;
import org.jdbi.v3.sqlobject.customizer.BindList;
import org.jdbi.v3.sqlobject.customizer.Define;
import org.jdbi.v3.sqlobject.statement.SqlQuery;
import org.jdbi.v3.sqlobject.statement.SqlUpdate;
import org.jdbi.v3.stringtemplate4.UseStringTemplateSqlLocator;

/** Statements in a group of string templates. */
@UseStringTemplateSqlLocator
public interface QuayGroup {
  @SqlQuery
  List<Long> find(@Bind("name") @Define("name") String name, @Define("sorted") boolean sorted);

  @SqlQuery
  List<Long> byIds(@BindList("ids") List<Long> ids);

  @SqlUpdate("change")
  int rename(@Bind("name") @Define("name") String name);
}
