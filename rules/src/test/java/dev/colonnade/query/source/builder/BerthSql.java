package dev.colonnade.query.source.builder;

import org.apache.ibatis.jdbc.SQL;

/** Statements about berths, as MyBatis's builder writes them. */
public final class BerthSql {
  private static final String TABLE = "berth";

  /** A chain of calls. */
  public String byCode() {
    return new SQL()
        .SELECT("b.id", "b.code")
        .SELECT("b.depth")
        .FROM(TABLE + " b")
        .LEFT_OUTER_JOIN("basin s on s.id = b.basin_id")
        .JOIN("port p on p.id = s.port_id", "land l on l.id = p.land_id")
        .WHERE("b.code = #{code}")
        .ORDER_BY("b.depth desc", "b.id")
        .LIMIT("#{rows}")
        .OFFSET("#{from}")
        .toString();
  }

  /** Conditions that may be missing. */
  public String search(String name, Integer depth) {
    SQL sql = new SQL();
    sql.SELECT_DISTINCT("id");
    sql.FROM(TABLE);
    if (name != null) {
      sql.WHERE("name = #{name}");
    }
    if (depth != null) {
      sql.WHERE("depth > #{depth}");
    }
    return sql.toString();
  }

  /** A class without a name, with what it sees of the method around it. */
  public String either(String name, Integer depth) {
    return new SQL() {
      {
        SELECT("count(*)");
        FROM(TABLE);
        WHERE("roofed = true", "open = true");
        OR();
        WHERE("depth is null");
        AND();
        WHERE("id > 0");
        if (name != null) {
          WHERE("name = #{name}");
        }
        GROUP_BY("basin_id");
        HAVING("count(*) > 1");
        if (depth != null) {
          AND();
          HAVING("max(depth) > #{depth}");
        }
      }
    }.toString();
  }

  /** Conditions that are applied, perhaps. */
  public String applied(String name, Integer depth) {
    return new SQL()
        .SELECT("id")
        .FROM(TABLE)
        .WHERE("open = true")
        .applyIf(name != null, sql -> sql.WHERE("name = #{name}"))
        .applyIf(() -> depth != null, sql -> sql.WHERE("depth > #{depth}").ORDER_BY("depth"))
        .toString();
  }

  /** Rows added. */
  public String add(String name) {
    SQL sql = new SQL().INSERT_INTO(TABLE).VALUES("id, code", "#{id}, #{code}");
    if (name != null) {
      sql.VALUES("name", "#{name}");
    }
    return sql.toString();
  }

  /** Two rows added. */
  public String addTwo() {
    return new SQL()
        .INSERT_INTO(TABLE)
        .INTO_COLUMNS("id", "code")
        .INTO_VALUES("1", "'a'")
        .ADD_ROW()
        .INTO_VALUES("2", "'b'")
        .toString();
  }

  /** A change, and a part that another method adds. */
  public String change(String name) {
    SQL sql = new SQL().UPDATE(TABLE);
    if (name != null) {
      sql.SET("name = #{name}");
    }
    sql.SET("depth = #{depth}", "roofed = false");
    identified(sql);
    return sql.toString();
  }

  private static void identified(SQL sql) {
    sql.WHERE("id = #{id}");
  }

  /** Rows deleted. */
  public String remove() {
    return new SQL().DELETE_FROM(TABLE).WHERE("id = #{id}").toString();
  }

  /** Rows in the words of the standard, within another text. */
  public String page() {
    SQL inner =
        new SQL()
            .SELECT("*")
            .FROM(TABLE)
            .ORDER_BY("id")
            .OFFSET_ROWS("#{rows}")
            .FETCH_FIRST_ROWS_ONLY("#{rows}");
    return "select b.* from (" + inner + ") b";
  }
}
