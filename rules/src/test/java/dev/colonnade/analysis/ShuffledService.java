package dev.colonnade.analysis;

import dev.colonnade.analysis.AnalysisInput.Changelog;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.Collections;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.Random;
import java.util.TreeMap;

/**
 * A service drawn at random: root changelogs that do not build on each other, files of queries and
 * mappers, some of them with parts that cannot be read.
 *
 * @param files contents by path
 * @param statistics by table, the line on its rows and the lines on its columns
 */
record ShuffledService(
    Map<String, String> files,
    List<String> roots,
    List<String> queries,
    List<String> mappers,
    Map<String, List<String>> statistics) {
  private static final String RESOURCES = "src/main/resources/";
  private static final List<String> COLUMNS = List.of("a", "b", "c", "d");

  static ShuffledService from(Random random) {
    Map<String, String> files = new TreeMap<>();
    Map<String, List<String>> statistics = new TreeMap<>();
    List<String> roots = new ArrayList<>();
    for (int i = 2 + random.nextInt(4); i > 0; i--) {
      String root = "db/" + letter(random) + i + (random.nextBoolean() ? ".xml" : ".sql");
      roots.add(root);
      List<String> tables = i % 2 == 0 ? List.of("pier" + i) : List.of("pier" + i, "berth" + i);
      files.put(RESOURCES + root, changelog(random, root.endsWith(".xml"), tables));
      tables.forEach(table -> statistics.put(table, numbers(random)));
    }
    List<String> tables = List.copyOf(statistics.keySet());
    List<String> queries = new ArrayList<>();
    for (int i = 2 + random.nextInt(4); i > 0; i--) {
      String file = "queries/" + letter(random) + i + ".sql";
      queries.add(file);
      files.put(file, statements(random, tables));
    }
    List<String> mappers = new ArrayList<>();
    for (int i = 2 + random.nextInt(2); i > 0; i--) {
      String file = "mappers/" + letter(random) + i + ".xml";
      mappers.add(file);
      files.put(file, mapper(random, i, tables));
    }
    return new ShuffledService(files, roots, queries, mappers, statistics);
  }

  private static char letter(Random random) {
    return (char) ('a' + random.nextInt(26));
  }

  private static String changelog(Random random, boolean xml, List<String> tables) {
    List<String> statements = new ArrayList<>();
    for (String table : tables) {
      statements.add(
          "create table "
              + table
              + " (id int not null primary key, a int not null, b int, c date, d varchar(40))");
      for (int i = random.nextInt(4); i > 0; i--) {
        String key = String.join(", ", some(random, 2));
        statements.add("create index ix_" + table + "_" + i + " on " + table + " (" + key + ")");
      }
      if (random.nextInt(3) == 0) {
        statements.add("create indx on " + table);
      }
    }
    StringBuilder sets = new StringBuilder();
    for (int id = 1; id <= statements.size(); id++) {
      String statement = statements.get(id - 1);
      sets.append(
          xml
              ? "<changeSet id=\"%d\" author=\"quay\"><sql>%s</sql></changeSet>\n"
                  .formatted(id, statement)
              : "--changeset quay:%d\n%s;\n".formatted(id, statement));
    }
    return xml ? SmallService.changelog(sets.toString()) : "--liquibase formatted sql\n" + sets;
  }

  private static List<String> numbers(Random random) {
    List<String> lines = new ArrayList<>();
    COLUMNS.forEach(
        column -> lines.add("      " + column + ": {distinct: " + (1 + random.nextInt(900)) + "}"));
    lines.add("    rows: " + (1_000 + random.nextInt(200_000)));
    return lines;
  }

  private static String statements(Random random, List<String> tables) {
    StringBuilder text = new StringBuilder();
    for (int i = 1 + random.nextInt(5); i > 0; i--) {
      text.append(random.nextInt(8) == 0 ? "select frm berth" : query(random, tables, "?"));
      text.append(";\n");
    }
    return text.toString();
  }

  private static String query(Random random, List<String> tables, String value) {
    String table =
        random.nextInt(9) == 0 ? "no_such_table" : tables.get(random.nextInt(tables.size()));
    List<String> columns = some(random, 1 + random.nextInt(2));
    String order = random.nextBoolean() ? "" : " order by " + some(random, 1).get(0);
    String where = String.join(" = " + value + " and ", columns) + " = " + value;
    return "select id from " + table + " where " + where + order;
  }

  /** Some statements include a part of another file, which may be read later. */
  private static String mapper(Random random, int number, List<String> tables) {
    StringBuilder text = new StringBuilder("<mapper namespace=\"port.Quay" + number + "\">\n");
    text.append("<sql id=\"columns\">id</sql>\n");
    String part = "<include refid=\"port.Quay" + (number % 2 + 1) + ".columns\"/>";
    for (int i = 1 + random.nextInt(3); i > 0; i--) {
      String query = query(random, tables, "#{value}");
      String included = query.replace("select id", "select " + part);
      text.append("<select id=\"find" + i + "\">");
      text.append(random.nextBoolean() ? query : included).append("</select>\n");
    }
    return text.append("</mapper>\n").toString();
  }

  private static List<String> some(Random random, int count) {
    return shuffled(COLUMNS, random).subList(0, count);
  }

  private static <T> List<T> shuffled(List<T> list, Random random) {
    List<T> shuffled = new ArrayList<>(list);
    Collections.shuffle(shuffled, random);
    return shuffled;
  }

  /** Writes its files in an order drawn at random, and names them in another. */
  AnalysisInput in(Path base, Random random) {
    SmallService written = SmallService.empty(base);
    for (String file : shuffled(List.copyOf(files.keySet()), random)) {
      written.file(file, files.get(file));
    }
    StringBuilder numbers = new StringBuilder("formatVersion: 1\ntables:\n");
    for (String table : shuffled(List.copyOf(statistics.keySet()), random)) {
      List<String> lines = statistics.get(table);
      int last = lines.size() - 1;
      numbers.append("  " + table + ":\n" + lines.get(last) + "\n    columns:\n");
      for (String line : shuffled(lines.subList(0, last), random)) {
        numbers.append(line).append("\n");
      }
    }
    written.file(SmallService.STATISTICS, numbers.toString());
    return AnalysisInput.builder(base, "postgresql")
        .changelogs(shuffled(roots, random).stream().map(Changelog::of).toList())
        .changelogSearchRoots(List.of(Path.of(RESOURCES)))
        .queryFiles(shuffled(queries, random).stream().map(Path::of).toList())
        .mapperFiles(shuffled(mappers, random).stream().map(Path::of).toList())
        .statisticsFile(Optional.of(Path.of(SmallService.STATISTICS)))
        .build();
  }
}
