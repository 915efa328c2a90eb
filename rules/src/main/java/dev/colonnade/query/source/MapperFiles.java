package dev.colonnade.query.source;

import dev.colonnade.location.RelativePath;
import dev.colonnade.location.SourceLocation;
import dev.colonnade.query.UnanalysedQuery;
import java.nio.file.Path;
import java.util.Collection;
import java.util.List;

/** Lists mapper files, one entry a file: their statements are not read yet. */
public final class MapperFiles {
  private MapperFiles() {}

  /** An entry for each of the files; the id is the file. */
  public static FoundQueries list(Path baseDirectory, Collection<Path> files) {
    return new FoundQueries(
        List.of(),
        files.stream()
            .map(file -> RelativePath.of(baseDirectory, file))
            .distinct()
            .map(
                file ->
                    new UnanalysedQuery(
                        file, SourceLocation.of(file), "mapper files are not analysed yet"))
            .toList(),
        List.of());
  }
}
