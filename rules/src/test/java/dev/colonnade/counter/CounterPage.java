package dev.colonnade.counter;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.List;

/** Writes the errors of a long run as the last section of the page on agreement. */
final class CounterPage {
  private static final String START = "## What databases count";

  private static final String HEAD =
      """
      ## What databases count

      Data: the TPC-H tables at two scales (`io.trino.tpch:tpch:1.2`) and foodmart (`net.hydromatic:foodmart-data-hsqldb:0.5`) with every
      fifth and with every row of its fact table. Statistics as the statistics file holds them are collected from the same data. Queries
      are generated, their constants taken from the data. "Entries" are handler calls (MariaDB, reading forced to our index, and in
      joins to our order) and scan counts (H2); "pages" are buffers (PostgreSQL, every time that a page is asked for). The factor of
      a prediction is the larger of predicted and counted by the smaller, both taken as 1 at least; the share within 2 (one table,
      pages) or 4 (joins) is given. For a preferred index the counted pages of the one that the analysis prefers stand against the
      fewest that any index that serves the query reads, where the analysis takes an index and not the table itself: "no page
      more" and "at most a tenth more". Run it again with

      ```
      mvn -B -ntp -pl rules test -Dtest=CounterTest -Dcolonnade.counter.queries=QUERIES
      ```

      Seed SEED.

      | what | compared | % right | median factor | 90 % within | worst |
      | --- | --- | --- | --- | --- | --- |
      """;

  private CounterPage() {}

  static void write(Path page, long seed, int queries, List<String> lines) throws IOException {
    String old = Files.exists(page) ? Files.readString(page) : "";
    int start = old.indexOf(START);
    String before = start < 0 ? old.stripTrailing() + "\n\n" : old.substring(0, start);
    String head =
        HEAD.replace("QUERIES", String.valueOf(queries)).replace("SEED", String.valueOf(seed));
    Files.writeString(page, before + head + String.join("\n", lines) + "\n");
  }
}
