package dev.colonnade.query.source;

import dev.colonnade.classfile.ClassFiles;
import dev.colonnade.query.QueryText;
import dev.colonnade.query.mapper.MapperReader;
import dev.colonnade.query.mapper.SqlTemplates;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import java.util.Map;

/** A service of annotated mappers or SQL objects, and what is found in it. */
final class AnnotatedSql {
  private AnnotatedSql() {}

  /** Scans sources, compiled beside the stand-ins of a library's annotations. */
  static FoundQueries scan(Path base, List<String> library, String... sources) {
    List<String> all = new ArrayList<>(List.of(sources));
    all.addAll(library);
    CompiledService service = CompiledService.of(base, all.toArray(String[]::new));
    return SqlMethods.scan(
        new SqlMethods.Setting(
            base,
            List.of(service.classes(), base.resolve("src/main/resources")),
            List.of(service.sources()),
            List.of(),
            new MapperReader(base, "postgresql", Map.of("prefix", "port_")),
            new SqlTemplates("postgresql")),
        ClassFiles.read(base, service.classes()));
  }

  /** The text in one line. */
  static String flat(QueryText query) {
    return query.sql().replaceAll("\\s+", " ");
  }
}
