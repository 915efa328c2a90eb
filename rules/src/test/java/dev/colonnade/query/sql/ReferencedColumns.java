package dev.colonnade.query.sql;

import dev.colonnade.predicate.Expression.ColumnRef;
import dev.colonnade.predicate.Identifier;
import dev.colonnade.query.FromItem.TableUse;
import dev.colonnade.query.Query;
import dev.colonnade.query.QueryBlock;
import java.sql.Connection;
import java.sql.ResultSet;
import java.sql.SQLException;
import java.sql.Statement;
import java.util.HashMap;
import java.util.Map;
import java.util.Optional;
import java.util.SortedSet;
import java.util.TreeSet;
import java.util.regex.Pattern;

/**
 * The columns that a query names, as {@code table.column}, where PostgreSQL and we differ: it
 * records them for a view of that text (catalog {@code pg_depend}, PostgreSQL 18 manual, 52.18).
 *
 * @param notRead recorded and not among those that we read
 * @param notRecorded the other way round
 */
public record ReferencedColumns(SortedSet<String> notRead, SortedSet<String> notRecorded) {
  private static final String RECORDED =
      """
      select distinct c.relname || '.' || a.attname
      from pg_depend d join pg_rewrite r on r.oid = d.objid join pg_class v on v.oid = r.ev_class
        join pg_class c on c.oid = d.refobjid
        join pg_attribute a on a.attrelid = c.oid and a.attnum = d.refobjsubid
      where d.classid = 'pg_rewrite'::regclass and d.refclassid = 'pg_class'::regclass
        and d.refobjsubid > 0 and v.relname = 'read_by_view' and c.oid <> v.oid
      """;

  /** The server records every column of a star that asks for rows only. */
  private static final Pattern EXISTING =
      Pattern.compile("exists\\s*\\(\\s*select\\s*\\*\\s", Pattern.CASE_INSENSITIVE);

  private static SortedSet<String> recorded(Connection connection, String sql) throws SQLException {
    SortedSet<String> columns = new TreeSet<>();
    try (Statement statement = connection.createStatement()) {
      String plain =
          EXISTING.matcher(sql.strip().replaceFirst(";$", "")).replaceAll("exists (select 1 ");
      statement.execute("create view read_by_view as select 1 as one from (" + plain + ") as q");
      try (ResultSet rows = statement.executeQuery(RECORDED)) {
        while (rows.next()) {
          columns.add(rows.getString(1));
        }
      } finally {
        statement.execute("drop view read_by_view");
      }
    }
    return columns;
  }

  /**
   * Where the two differ; empty where the server takes no view of the text.
   *
   * @param sql without parameters
   */
  public static Optional<ReferencedColumns> compare(
      Connection connection, String sql, Query query) {
    SortedSet<String> recorded;
    try {
      recorded = recorded(connection, sql);
    } catch (SQLException e) {
      return Optional.empty();
    }
    SortedSet<String> notRead = new TreeSet<>(recorded);
    notRead.removeAll(read(query));
    SortedSet<String> notRecorded = read(query);
    notRecorded.removeAll(recorded);
    return Optional.of(new ReferencedColumns(notRead, notRecorded));
  }

  /** True where the two name the same columns. */
  public boolean agree() {
    return notRead.isEmpty() && notRecorded.isEmpty();
  }

  private static SortedSet<String> read(Query query) {
    Map<Integer, Identifier> tables = new HashMap<>();
    for (QueryBlock block : query.blocks()) {
      for (TableUse use : block.tables()) {
        tables.put(use.use(), use.table());
      }
    }
    SortedSet<String> columns = new TreeSet<>();
    for (QueryBlock block : query.blocks()) {
      for (ColumnRef column : block.columns()) {
        if (tables.containsKey(column.use())) {
          columns.add(tables.get(column.use()).folded() + "." + column.column().folded());
        }
      }
    }
    return columns;
  }
}
