package dev.colonnade.analysis;

import dev.colonnade.query.source.FoundQueries;
import dev.colonnade.query.source.MapperFiles;
import dev.colonnade.query.source.QueryAnnotation;
import dev.colonnade.query.source.RepositoryScanner;
import dev.colonnade.query.source.SqlFileReader;
import java.util.List;

/** Finds the queries of a service in every place that the input names. */
final class QueryCollector {
  private QueryCollector() {}

  static FoundQueries collect(AnalysisInput input) {
    FoundQueries inFiles = new SqlFileReader(input.baseDirectory()).read(input.queryFiles());
    FoundQueries inMappers = MapperFiles.list(input.baseDirectory(), input.mapperFiles());
    return inClasses(input).and(inFiles).and(inMappers);
  }

  private static FoundQueries inClasses(AnalysisInput input) {
    List<QueryAnnotation> annotations =
        input.queryAnnotations().stream()
            .map(annotation -> QueryAnnotation.of(annotation.className(), annotation.attribute()))
            .toList();
    return input
        .classesDirectory()
        .map(
            classes ->
                new RepositoryScanner(
                        input.baseDirectory(), classes, input.sourceDirectories(), annotations)
                    .scan())
        .orElse(FoundQueries.NONE);
  }
}
