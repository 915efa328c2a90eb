package dev.colonnade.query.source.quay;

import java.util.List;
import org.jdbi.v3.sqlobject.customizer.Bind;
import org.jdbi.v3.sqlobject.customizer.Define;
import org.jdbi.v3.sqlobject.statement.SqlQuery;
import org.jdbi.v3.stringtemplate4.UseStringTemplateSqlLocator;

/** Statements of every object that extends it, each with templates of its own. */
@UseStringTemplateSqlLocator
public interface QuayCommon {
  @SqlQuery
  List<Long> all();

  @SqlQuery
  List<String> odd();

  @SqlQuery
  List<Long> deeper(@Bind("depth") double depth);

  @SqlQuery
  List<Long> either(
      @Define("ids") List<Long> ids, @Bind("depth_0") double one, @Bind("depth_1") double other);
}
