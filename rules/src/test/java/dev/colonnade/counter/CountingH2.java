package dev.colonnade.counter;

import java.sql.DriverManager;
import java.sql.SQLException;
import java.util.Locale;
import java.util.OptionalDouble;
import java.util.regex.Matcher;
import java.util.regex.Pattern;

/**
 * H2 counts entries in {@code EXPLAIN ANALYZE}: {@code scanCount}, the end of the scan included.
 */
final class CountingH2 extends CountingDatabase {
  private static final Pattern COUNT = Pattern.compile("/\\* scanCount: (\\d+) \\*/");

  CountingH2() throws SQLException {
    super(DriverManager.getConnection("jdbc:h2:mem:"));
  }

  @Override
  String analyze(String table) {
    return "analyze table " + table;
  }

  @Override
  OptionalDouble entries(CountedQuery query, String index) throws SQLException {
    if (index.startsWith("pk_")) {
      return OptionalDouble.empty();
    }
    String plan =
        String.join(
            "\n", rows("explain analyze " + query.sql(table -> " use index (" + index + ")")));
    Matcher count = COUNT.matcher(plan);
    boolean used = plan.contains("/* PUBLIC." + index.toUpperCase(Locale.ROOT) + ": ");
    return used && count.find()
        ? OptionalDouble.of(Math.max(0, Double.parseDouble(count.group(1)) - 1))
        : OptionalDouble.empty();
  }
}
