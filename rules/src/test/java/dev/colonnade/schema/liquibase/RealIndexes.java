package dev.colonnade.schema.liquibase;

import java.sql.Connection;
import java.sql.DatabaseMetaData;
import java.sql.ResultSet;
import java.sql.SQLException;
import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.SortedMap;
import java.util.SortedSet;
import java.util.TreeMap;
import java.util.TreeSet;

/** Reads the indexes of a real database from its catalog, one line an index. */
final class RealIndexes {
  private RealIndexes() {}

  /** From pg_index and its relatives, with access method, predicate and included columns. */
  static SortedSet<String> postgresql(Connection connection) throws SQLException {
    SortedSet<String> lines = new TreeSet<>();
    for (Map<String, String> row :
        RealSchema.rows(
            connection,
            """
            select t.relname as table_name, i.relname as index_name, ix.indisunique as is_unique,
                   am.amname as method, pg_get_expr(ix.indpred, ix.indrelid) as predicate,
                   (select string_agg(pg_get_indexdef(ix.indexrelid, k, true)
                             || case when k <= ix.indnkeyatts and ix.indoption[k - 1] & 1 = 1
                                     then ' desc' else '' end, ', ' order by k)
                      from generate_series(1, ix.indnkeyatts) k) as keys,
                   (select string_agg(pg_get_indexdef(ix.indexrelid, k, true), ', ' order by k)
                      from generate_series(ix.indnkeyatts + 1, ix.indnatts) k) as included
              from pg_index ix
              join pg_class i on i.oid = ix.indexrelid
              join pg_class t on t.oid = ix.indrelid
              join pg_am am on am.oid = i.relam
              join pg_namespace n on n.oid = t.relnamespace
             where n.nspname = 'public'
            """)) {
      if (RealSchema.isOurs(row.get("table_name"))) {
        lines.add(
            line(
                row.get("table_name"),
                row.get("index_name"),
                row.get("is_unique").equals("t"),
                row.get("keys"),
                row.get("included"),
                row.get("predicate"),
                row.get("method")));
      }
    }
    return lines;
  }

  /** From the tables of the information schema. */
  static SortedSet<String> h2(Connection connection) throws SQLException {
    return grouped(
        RealSchema.rows(
            connection,
            """
            select c.table_name, c.index_name, c.column_name,
                   c.is_unique, c.ordering_specification as direction
              from information_schema.index_columns c
             where c.table_schema = 'PUBLIC'
             order by c.table_name, c.index_name, c.ordinal_position
            """));
  }

  /** From the information schema; a key part of limited length is written {@code name:10}. */
  static SortedSet<String> mariadb(Connection connection) throws SQLException {
    return grouped(
        RealSchema.rows(
            connection,
            """
            select table_name as table_name, index_name as index_name,
                   concat(column_name, if(index_type = 'SPATIAL', '',
                          coalesce(concat(':', sub_part), ''))) as column_name,
                   case non_unique when 0 then 'TRUE' else '' end as is_unique,
                   case collation when 'D' then 'DESC' else 'ASC' end as direction,
                   lower(index_type) as method
              from information_schema.statistics
             where table_schema = database()
             order by table_name, index_name, seq_in_index
            """));
  }

  /** From the system tables; the index of a constraint is listed under the constraint's name. */
  static List<String> derby(Connection connection) throws SQLException {
    List<String> lines = new ArrayList<>();
    for (Map<String, String> row :
        RealSchema.rows(
            connection,
            """
            select t.tableid, t.tablename as table_name, cast(g.descriptor as varchar(200)) as text,
                   coalesce(k.constraintname, f.constraintname, g.conglomeratename) as index_name
              from sys.sysconglomerates g
              join sys.systables t on t.tableid = g.tableid
              join sys.sysschemas s on s.schemaid = t.schemaid
              left join (select y.conglomerateid, c.constraintname from sys.syskeys y
                           join sys.sysconstraints c on c.constraintid = y.constraintid) k
                on k.conglomerateid = g.conglomerateid
              left join (select y.conglomerateid, c.constraintname from sys.sysforeignkeys y
                           join sys.sysconstraints c on c.constraintid = y.constraintid) f
                on f.conglomerateid = g.conglomerateid
             where g.isindex = true and s.schemaname = 'APP'
            """)) {
      if (RealSchema.isOurs(row.get("table_name"))) {
        String text = row.get("text");
        List<String> keys = new ArrayList<>();
        for (String part :
            text.substring(text.indexOf('(') + 1, text.indexOf(')')).split(", *", -1)) {
          String[] words = part.strip().split(" ", -1);
          keys.add(
              RealSchema.rows(
                          connection,
                          "select columnname from sys.syscolumns where referenceid = '"
                              + row.get("tableid")
                              + "' and columnnumber = "
                              + words[0])
                      .get(0)
                      .get("columnname")
                  + (words.length > 1 ? " desc" : ""));
        }
        lines.add(
            line(
                row.get("table_name"),
                row.get("index_name"),
                text.startsWith("UNIQUE"),
                String.join(", ", keys),
                null,
                null,
                "btree"));
      }
    }
    return lines;
  }

  /** Columns that are the row number, as {@code table.column}. */
  static List<String> sqliteRowNumbers(Connection connection) throws SQLException {
    return RealSchema.rows(
            connection,
            """
            select lower(m.name || '.' || c.name) as line
              from sqlite_master m, pragma_table_info(m.name) c
             where m.type = 'table' and c.pk = 1 and lower(c.type) = 'integer'
               and not exists (select 1 from pragma_table_info(m.name) o where o.pk > 1)
               and not exists (select 1 from pragma_index_list(m.name) l where l.origin = 'pk')
            """)
        .stream()
        .map(row -> row.get("line"))
        .filter(RealSchema::isOurs)
        .toList();
  }

  /** From a pragma function. */
  static List<String> sqliteForeignKeys(Connection connection) throws SQLException {
    return RealSchema.rows(
            connection,
            """
            select lower(name || ' references ' || parent || ' [' || group_concat(pair, ', ') || ']')
                     as line
              from (select m.name, f.id, f."table" as parent,
                           f."from" || '=' || coalesce(f."to", (select c.name
                               from pragma_table_info(f."table") c where c.pk = f.seq + 1)) as pair
                      from sqlite_master m, pragma_foreign_key_list(m.name) f
                     where m.type = 'table' order by m.name, f.id, lower(pair))
             group by name, id
            """)
        .stream()
        .map(row -> row.get("line"))
        .toList();
  }

  /** From pragma functions. The row number is not an index there. */
  static SortedSet<String> sqlite(Connection connection) throws SQLException {
    List<Map<String, String>> rows =
        RealSchema.rows(
            connection,
            """
            select m.name as table_name, l.name as index_name,
                   case l."unique" when 1 then 'TRUE' else '' end as is_unique,
                   coalesce(x.name, '?') as column_name,
                   case x."desc" when 1 then 'DESC' else 'ASC' end as direction,
                   (select case when instr(lower(i.sql), ' where ') > 0
                           then substr(i.sql, instr(lower(i.sql), ' where ') + 7) end
                      from sqlite_master i where i.name = l.name) as predicate
              from sqlite_master m, pragma_index_list(m.name) l, pragma_index_xinfo(l.name) x
             where m.type = 'table' and x.key = 1
             order by m.name, l.name, x.seqno
            """);
    return grouped(rows);
  }

  private static SortedSet<String> grouped(List<Map<String, String>> rows) {
    SortedMap<String, List<Map<String, String>>> byIndex = new TreeMap<>();
    for (Map<String, String> row : rows) {
      byIndex
          .computeIfAbsent(
              row.get("table_name") + " " + row.get("index_name"), k -> new ArrayList<>())
          .add(row);
    }
    SortedSet<String> lines = new TreeSet<>();
    byIndex
        .values()
        .forEach(
            columns -> {
              Map<String, String> first = columns.get(0);
              boolean unique = first.get("is_unique").startsWith("TRUE");
              List<String> keys = new ArrayList<>();
              List<String> included = new ArrayList<>();
              for (Map<String, String> column : columns) {
                String direction = column.get("direction").startsWith("DESC") ? " desc" : "";
                boolean isKey = !unique || column.get("is_unique").startsWith("TRUE");
                (isKey ? keys : included).add(column.get("column_name") + direction);
              }
              if (RealSchema.isOurs(first.get("table_name"))) {
                lines.add(
                    line(
                        first.get("table_name"),
                        first.get("index_name"),
                        unique,
                        String.join(", ", keys),
                        String.join(", ", included),
                        first.get("predicate"),
                        first.getOrDefault("method", "btree")));
              }
            });
    return lines;
  }

  /** The form in which indexes are compared. */
  static String line(
      String table,
      String index,
      boolean unique,
      String keys,
      String included,
      String predicate,
      String method) {
    return (table
            + "."
            + index
            + (unique ? " unique (" : " (")
            + plain(keys)
            + ")"
            + (included == null || included.isEmpty() ? "" : " include (" + plain(included) + ")")
            + (predicate == null ? "" : " where " + plain(predicate))
            + (method.equalsIgnoreCase("btree") ? "" : " " + method))
        .toLowerCase(Locale.ROOT);
  }

  /** From JDBC metadata. */
  static List<String> metadata(Connection connection, String schema) throws SQLException {
    List<String> lines = new ArrayList<>();
    DatabaseMetaData metaData = connection.getMetaData();
    try (ResultSet tables = metaData.getTables(null, schema, null, new String[] {"TABLE"})) {
      while (tables.next()) {
        String table = tables.getString("TABLE_NAME");
        if (RealSchema.isOurs(table)) {
          lines.addAll(metadata(metaData, schema, table));
        }
      }
    }
    return lines;
  }

  private static List<String> metadata(DatabaseMetaData metaData, String schema, String table)
      throws SQLException {
    SortedMap<String, List<String>> keys = new TreeMap<>();
    SortedMap<String, Boolean> unique = new TreeMap<>();
    try (ResultSet rows = metaData.getIndexInfo(null, schema, table, false, true)) {
      while (rows.next()) {
        String index = rows.getString("INDEX_NAME");
        String direction = "D".equals(rows.getString("ASC_OR_DESC")) ? " desc" : "";
        keys.computeIfAbsent(index, k -> new ArrayList<>())
            .add(rows.getString("COLUMN_NAME") + direction);
        unique.put(index, !rows.getBoolean("NON_UNIQUE"));
      }
    }
    List<String> lines = new ArrayList<>();
    keys.forEach(
        (index, columns) ->
            lines.add(
                line(
                    table,
                    index,
                    unique.get(index),
                    String.join(", ", columns),
                    null,
                    null,
                    "btree")));
    return lines;
  }

  /** A line without a name that cannot be foreseen: H2's, HSQLDB's and Derby's own. */
  static String withoutGeneratedName(String line) {
    return withoutHash(line)
        .replaceFirst(
            "\\.(sys_(ct|pk|fk|idx(_sys_\\w\\w)?)_\\d+(_\\d+)?|sql\\d{6,}\\S*|system_\\w+) ",
            ".# ");
  }

  /**
   * A line without the end of a name that H2 takes from a hash: it takes another one whenever ALTER
   * TABLE copies the table.
   */
  static String withoutHash(String line) {
    return line.replaceFirst("\\.primary_key_[0-9a-f_]+", ".primary_key_#")
        .replaceFirst("\\.constraint(_[0-9a-f]+)?_index_[0-9a-f_]+", ".constraint_index_#")
        .replaceFirst("\\.index_[0-9a-f]{1,8} ", ".index_# ")
        .replaceFirst("_index_[0-9a-f_]+ ", "_index_# ");
  }

  /** Text without what catalogs add to it: quotes, parentheses, casts of literals. */
  private static String plain(String text) {
    return text.replaceAll("(?i)cast\\((\\w+) as [a-z ]+", "$1")
        .replaceAll("::[a-z]+( [a-z]+)*(\\[\\])?", "")
        .replaceAll("[\"()]", "")
        .replaceAll("\\s+", " ")
        .strip();
  }
}
