package dev.colonnade.schema.liquibase;

import dev.colonnade.location.NotUnderstood;
import dev.colonnade.location.SourceLocation;
import dev.colonnade.predicate.Identifier;
import dev.colonnade.schema.change.SchemaChange.RowsLoaded;
import dev.colonnade.schema.sql.DdlResult;
import java.io.IOException;
import java.io.StringReader;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import liquibase.change.core.LoadDataChange;
import liquibase.change.core.LoadUpdateDataChange;
import liquibase.util.csv.CSVReader;

/** Counts the rows of the files that loadData and loadUpdateData put into tables. */
final class LoadedRows {
  private final RootsAccessor accessor;
  private final Map<Identifier, Long> updated = new HashMap<>();

  LoadedRows(RootsAccessor accessor) {
    this.accessor = accessor;
  }

  /** The path that a changelog means by a path that may be relative to it. */
  static String path(String written, Boolean relative, String changelog) {
    if (written == null || !Boolean.TRUE.equals(relative)) {
      return written;
    }
    int slash = changelog.lastIndexOf('/');
    return slash < 0 ? written : changelog.substring(0, slash + 1) + written;
  }

  /** The rows of the file; an entry where it is missing or cannot be read. */
  DdlResult read(LoadDataChange change, String changelog, SourceLocation at) {
    String file = path(change.getFile(), change.isRelativeToChangelogFile(), changelog);
    Optional<String> text = file == null ? Optional.empty() : accessor.text(file);
    if (text.isEmpty()) {
      return notCounted(at, "cannot find " + change.getFile());
    }
    try {
      Identifier table =
          Identifier.in(
              DirectChanges.optional(change.getSchemaName()),
              DirectChanges.name(change.getTableName()));
      long rows = count(text.get(), change);
      return new DdlResult(
          List.of(new RowsLoaded(table, more(change, table, rows), at)), List.of());
    } catch (IOException e) {
      return notCounted(at, "cannot read " + change.getFile());
    }
  }

  private static DdlResult notCounted(SourceLocation at, String reason) {
    return new DdlResult(List.of(), List.of(new NotUnderstood(at, "loadData: " + reason)));
  }

  /** Loading the same table once more with loadUpdateData changes rows that are there. */
  private long more(LoadDataChange change, Identifier table, long rows) {
    if (!(change instanceof LoadUpdateDataChange)) {
      return rows;
    }
    long before = updated.getOrDefault(table, 0L);
    updated.put(table, Math.max(before, rows));
    return Math.max(0, rows - before);
  }

  /** Rows behind the header, without empty ones and comments, as Liquibase counts them. */
  private static long count(String text, LoadDataChange change) throws IOException {
    long rows = -1;
    CSVReader reader =
        new CSVReader(
            new StringReader(text.startsWith("\uFEFF") ? text.substring(1) : text),
            separator(change.getSeparator()),
            sign(change.getQuotchar(), CSVReader.DEFAULT_QUOTE_CHARACTER));
    String[] line = reader.readNext();
    while (line != null) {
      boolean empty = line.length == 0 || (line.length == 1 && line[0].isBlank());
      rows += empty || isComment(line, change.getCommentLineStartsWith()) ? 0 : 1;
      line = reader.readNext();
    }
    return Math.max(0, rows);
  }

  private static boolean isComment(String[] line, String start) {
    return start != null && !start.isEmpty() && line[0].startsWith(start);
  }

  private static char separator(String written) {
    return "\\t".equals(written) ? '\t' : sign(written, CSVReader.DEFAULT_SEPARATOR);
  }

  private static char sign(String written, char otherwise) {
    return written == null || written.isEmpty() ? otherwise : written.charAt(0);
  }
}
