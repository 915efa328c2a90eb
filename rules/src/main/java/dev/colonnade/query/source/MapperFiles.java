package dev.colonnade.query.source;

import dev.colonnade.query.mapper.MapperReader;
import dev.colonnade.query.mapper.MapperReading;
import java.nio.file.Path;
import java.util.Collection;

/** Finds the queries of mapper files. */
public final class MapperFiles {
  private MapperFiles() {}

  /** The statements of the files, each in its variants. */
  public static FoundQueries read(MapperReader reader, Collection<Path> files) {
    return found(reader.read(files));
  }

  static FoundQueries found(MapperReading reading) {
    return new FoundQueries(
        reading.queries(), reading.unanalysed(), reading.notes(), reading.withoutText());
  }
}
