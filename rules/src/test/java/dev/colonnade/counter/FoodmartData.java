package dev.colonnade.counter;

import dev.colonnade.counter.DataTable.DataColumn;
import dev.colonnade.schema.TypeFamily;
import java.math.BigDecimal;
import java.sql.Connection;
import java.sql.Date;
import java.sql.DriverManager;
import java.sql.ResultSet;
import java.sql.ResultSetMetaData;
import java.sql.SQLException;
import java.sql.Statement;
import java.sql.Timestamp;
import java.sql.Types;
import java.util.ArrayList;
import java.util.List;
import java.util.Locale;

/**
 * Tables of the foodmart data set, {@code net.hydromatic:foodmart-data-hsqldb:0.5}, with indexes of
 * our own. Its values are spread unevenly and its columns depend on each other.
 */
final class FoodmartData {
  private static final int WIDEST = 200;

  private FoodmartData() {}

  /**
   * The tables.
   *
   * @param every of the rows of the fact tables one in so many is taken; 1 takes all
   */
  static List<DataTable> tables(int every) throws SQLException {
    try (Connection connection =
        DriverManager.getConnection("jdbc:hsqldb:res:foodmart", "FOODMART", "FOODMART")) {
      return List.of(
          table(
              connection,
              "sales_fact_1997",
              every,
              List.of(),
              List.of(
                  List.of("product_id", "time_id"),
                  List.of("time_id"),
                  List.of("customer_id", "product_id"),
                  List.of("store_id", "time_id"),
                  List.of("promotion_id"))),
          table(
              connection,
              "customer",
              1,
              List.of("customer_id"),
              List.of(
                  List.of("country", "state_province", "city"),
                  List.of("lname", "fname"),
                  List.of("birthdate"),
                  List.of("member_card", "gender"),
                  List.of("num_cars_owned", "total_children"),
                  List.of("city"))),
          table(
              connection,
              "product",
              1,
              List.of("product_id"),
              List.of(List.of("product_class_id"), List.of("brand_name", "product_name"))),
          table(
              connection,
              "time_by_day",
              1,
              List.of("time_id"),
              List.of(List.of("the_year", "quarter", "month_of_year"))),
          table(
              connection,
              "employee",
              1,
              List.of("employee_id"),
              List.of(
                  List.of("store_id", "department_id"),
                  List.of("supervisor_id"),
                  List.of("position_title", "management_role"))),
          table(
              connection,
              "store",
              1,
              List.of("store_id"),
              List.of(List.of("store_country", "store_state"))));
    }
  }

  private static DataTable table(
      Connection connection,
      String name,
      int every,
      List<String> primaryKey,
      List<List<String>> keys)
      throws SQLException {
    List<Object[]> rows = new ArrayList<>();
    List<DataColumn> columns = new ArrayList<>();
    try (Statement statement = connection.createStatement();
        ResultSet found = statement.executeQuery("select * from \"foodmart\".\"" + name + "\"")) {
      ResultSetMetaData meta = found.getMetaData();
      for (int i = 1; i <= meta.getColumnCount(); i++) {
        columns.add(column(meta, i, primaryKey));
      }
      for (int n = 0; found.next(); n++) {
        if (n % every == 0) {
          Object[] row = new Object[columns.size()];
          for (int i = 0; i < row.length; i++) {
            row[i] = value(found.getObject(i + 1));
          }
          rows.add(row);
        }
      }
    }
    return new DataTable(name, columns, primaryKey, keys, rows);
  }

  private static Object value(Object value) {
    if (value instanceof Timestamp moment) {
      return moment.toLocalDateTime().toLocalDate();
    }
    if (value instanceof Date day) {
      return day.toLocalDate();
    }
    if (value instanceof Double number) {
      return BigDecimal.valueOf(number);
    }
    return value instanceof Boolean truth ? Integer.valueOf(truth ? 1 : 0) : value;
  }

  private static DataColumn column(ResultSetMetaData meta, int i, List<String> primaryKey)
      throws SQLException {
    String name = meta.getColumnName(i).toLowerCase(Locale.ROOT);
    boolean nullable = !primaryKey.contains(name);
    return switch (meta.getColumnType(i)) {
      case Types.TINYINT, Types.SMALLINT, Types.INTEGER, Types.BOOLEAN, Types.BIT ->
          new DataColumn(name, "integer", TypeFamily.INTEGER, nullable);
      case Types.BIGINT -> new DataColumn(name, "bigint", TypeFamily.BIG_INTEGER, nullable);
      case Types.DATE, Types.TIMESTAMP -> new DataColumn(name, "date", TypeFamily.DATE, nullable);
      case Types.DECIMAL, Types.NUMERIC, Types.DOUBLE, Types.FLOAT, Types.REAL ->
          new DataColumn(name, "decimal(18,4)", TypeFamily.DECIMAL, nullable);
      default -> new DataColumn(name, "varchar(" + WIDEST + ")", TypeFamily.TEXT, nullable);
    };
  }
}
