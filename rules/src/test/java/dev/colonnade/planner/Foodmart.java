package dev.colonnade.planner;

import com.fasterxml.jackson.core.JsonParser;
import com.fasterxml.jackson.core.JsonToken;
import com.fasterxml.jackson.databind.ObjectMapper;
import dev.colonnade.planner.TestTable.TestColumn;
import dev.colonnade.planner.TestTable.TestIndex;
import java.io.BufferedReader;
import java.io.IOException;
import java.io.InputStream;
import java.io.InputStreamReader;
import java.nio.charset.StandardCharsets;
import java.util.ArrayList;
import java.util.HashSet;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.Optional;
import java.util.Set;
import java.util.TreeMap;
import java.util.regex.Matcher;
import java.util.regex.Pattern;

/**
 * The queries of {@code net.hydromatic:foodmart-queries:0.4.1} on the tables and indexes of {@code
 * net.hydromatic:foodmart-data-hsqldb:0.5}, with a few composite indexes of our own and few rows of
 * no meaning.
 */
final class Foodmart {
  private static final int ROWS = 400;

  private static final Pattern TABLE =
      Pattern.compile("CREATE MEMORY TABLE \"foodmart\"\\.\"(\\w+)\"\\((.*)\\)");
  private static final Pattern COLUMN =
      Pattern.compile("\"(\\w+)\" ([A-Z]+)(?:\\([\\d,]+\\))?( NOT NULL)?");
  private static final Pattern INDEX =
      Pattern.compile("CREATE (UNIQUE )?INDEX \"(\\w+)\" ON \"foodmart\"\\.\"(\\w+)\"\\((.*)\\)");

  private static final List<String> COMPOSITE =
      List.of(
          "sales_fact_1997(product_id, time_id)",
          "sales_fact_1997(customer_id, product_id)",
          "sales_fact_1997(store_id, time_id)",
          "sales_fact_1998(time_id, customer_id)",
          "inventory_fact_1997(time_id, product_id)",
          "customer(country, state_province, city)",
          "customer(state_province, city)",
          "customer(marital_status, gender)",
          "product(brand_name, product_name)",
          "product_class(product_family, product_department, product_category)",
          "time_by_day(the_year, quarter, month_of_year)",
          "employee(store_id, department_id)",
          "employee(position_title, management_role)",
          "store(store_country, store_state, store_city)",
          "agg_c_10_sales_fact_1997(the_year, quarter, month_of_year)");

  private Foodmart() {}

  /**
   * The workload.
   *
   * @param every of the queries that differ in more than their constants one in so many is taken; 0
   *     takes every query that differs at all
   */
  static Benchmark benchmark(int every) {
    try {
      return new Benchmark("foodmart", tables(), queries(every));
    } catch (IOException e) {
      throw new AssertionError(e);
    }
  }

  private static InputStream resource(String name) {
    return Foodmart.class.getResourceAsStream(name);
  }

  private static Map<String, String> queries(int every) throws IOException {
    Map<String, String> queries = new TreeMap<>();
    Set<String> seen = new HashSet<>();
    try (InputStream in = resource("/queries.json");
        JsonParser json = new ObjectMapper().createParser(in)) {
      int id = 0;
      for (JsonToken token = json.nextToken(); token != null; token = json.nextToken()) {
        if (token != JsonToken.FIELD_NAME) {
          continue;
        }
        switch (json.currentName()) {
          case "id" -> id = json.nextIntValue(0);
          case "sql" -> {
            String sql = json.nextTextValue();
            if (seen.add(every == 0 ? sql : shape(sql))
                && (every == 0 || seen.size() % every == 0)) {
              queries.put(String.format(Locale.ROOT, "%04d", id), sql);
            }
          }
          case "columns", "rows" -> {
            json.nextToken();
            json.skipChildren();
          }
          default -> {
            // The list itself.
          }
        }
      }
    }
    return queries;
  }

  /** The text without its constants. */
  private static String shape(String sql) {
    return sql.replaceAll("'[^']*'|\\b\\d+(\\.\\d+)?\\b", "?").replaceAll("\\?(, *\\?)+", "?");
  }

  private static List<TestTable> tables() throws IOException {
    Map<String, String> bodies = new LinkedHashMap<>();
    Map<String, List<TestIndex>> indexes = new TreeMap<>();
    try (BufferedReader lines =
        new BufferedReader(
            new InputStreamReader(resource("/foodmart.script"), StandardCharsets.UTF_8))) {
      for (String line = lines.readLine();
          line != null && !line.startsWith("INSERT");
          line = lines.readLine()) {
        Matcher table = TABLE.matcher(line);
        Matcher index = INDEX.matcher(line);
        if (table.matches()) {
          bodies.put(BenchmarkText.name(table.group(1)), table.group(2));
        } else if (index.matches()) {
          add(
              indexes,
              index.group(2),
              BenchmarkText.name(index.group(3)),
              index.group(1) != null,
              index.group(4).replace("\"", ""));
        }
      }
    }
    for (String text : COMPOSITE) {
      String table = text.substring(0, text.indexOf('('));
      String name = "x" + indexes.getOrDefault(table, List.of()).size() + "_" + table;
      add(indexes, name, table, false, text.substring(text.indexOf('(') + 1, text.length() - 1));
    }
    List<TestTable> tables = new ArrayList<>();
    bodies.forEach(
        (name, body) -> tables.add(table(name, body, indexes.getOrDefault(name, List.of()))));
    return tables;
  }

  private static void add(
      Map<String, List<TestIndex>> indexes,
      String name,
      String table,
      boolean unique,
      String columns) {
    TestIndex plain =
        Benchmark.index(name.toLowerCase(Locale.ROOT), table, List.of(columns.split(", ?", -1)));
    indexes
        .computeIfAbsent(table, key -> new ArrayList<>())
        .add(new TestIndex(plain.name(), table, unique, plain.key(), List.of(), Optional.empty()));
  }

  private static TestTable table(String name, String body, List<TestIndex> indexes) {
    Set<String> unique = new HashSet<>();
    indexes.stream().filter(TestIndex::unique).forEach(index -> unique.addAll(index.keyTexts()));
    List<TestColumn> columns = new ArrayList<>();
    Matcher column = COLUMN.matcher(body);
    while (column.find()) {
      ValueKind kind =
          switch (column.group(2)) {
            case "TINYINT", "SMALLINT", "INTEGER" -> ValueKind.INTEGER;
            case "BIGINT" -> ValueKind.BIG;
            case "BOOLEAN" -> ValueKind.TRUTH;
            case "DATE", "TIMESTAMP" -> ValueKind.DAY;
            case "VARCHAR" -> ValueKind.TEXT;
            case "DECIMAL", "DOUBLE" -> ValueKind.DECIMAL;
            default -> throw new IllegalStateException(column.group());
          };
      int values =
          unique.contains(column.group(1)) ? ROWS : column.group(1).endsWith("_id") ? 100 : 20;
      columns.add(
          new TestColumn(
              BenchmarkText.name(column.group(1)).toLowerCase(Locale.ROOT),
              kind,
              column.group(3) == null,
              values,
              Optional.empty()));
    }
    List<Integer[]> rows = new ArrayList<>();
    for (int row = 0; row < ROWS; row++) {
      int number = row;
      rows.add(columns.stream().map(it -> number % it.values()).toArray(Integer[]::new));
    }
    return new TestTable(name, columns, List.of(), rows, indexes);
  }
}
