package dev.colonnade.dialect;

import java.util.List;
import java.util.Map;
import java.util.function.Function;
import java.util.stream.Collectors;
import java.util.stream.Stream;

/**
 * The versions of a database whose facts are known here.
 *
 * @param oldest the numbers of the oldest one
 * @param later the first numbers of the lines of versions behind it, the newest last
 * @param letters true when a letter may stand behind the numbers: {@code 19c}
 * @param dialect the facts of a version
 */
record KnownVersions(
    List<Integer> oldest,
    List<Integer> later,
    boolean letters,
    Function<DatabaseVersion, Dialect> dialect) {

  /** Lists of versions by their makers, from memory; the oldest is where the facts begin. */
  private static final Map<String, KnownVersions> BY_SHORT_NAME =
      Map.of(
          "postgresql", of(PostgreSql::at, List.of(9, 6), 10, 11, 12, 13, 14, 15, 16, 17, 18),
          "mysql", of(InnoDb::mysql, List.of(5, 7), 8, 9),
          "mariadb", of(InnoDb::mariadb, List.of(10, 2), 11, 12),
          "oracle",
              new KnownVersions(List.of(11), List.of(12, 18, 19, 21, 23, 26), true, Oracle::at),
          "mssql", of(SqlServer::at, List.of(2008), 2012, 2014, 2016, 2017, 2019, 2022, 2025),
          "db2", of(Db2::at, List.of(9, 7), 10, 11, 12),
          "sqlite", of(SqLite::at, List.of(3, 8)),
          "h2", of(H2::at, List.of(1, 4), 2),
          "hsqldb", of(HsqlDb::at, List.of(2)),
          "derby", of(Derby::at, List.of(10)));

  private static KnownVersions of(
      Function<DatabaseVersion, Dialect> dialect, List<Integer> oldest, Integer... later) {
    return new KnownVersions(oldest, List.of(later), false, dialect);
  }

  static KnownVersions of(String shortName) {
    return BY_SHORT_NAME.get(shortName);
  }

  /** The database in that version, or an exception with a message for the user. */
  Dialect at(String displayName, String text) {
    DatabaseVersion version =
        DatabaseVersion.read(text)
            .orElseThrow(
                () ->
                    new IllegalArgumentException(
                        "'" + text + "' is not a version; write it as 15, 15.4, 8.0.36 or 19c"));
    if ((version.hasLetter() && !letters) || !holds(version)) {
      throw new IllegalArgumentException(
          "'"
              + text
              + "' is not a version of "
              + displayName
              + " that is known here ("
              + shown()
              + "); leave it out for the newest");
    }
    return dialect.apply(version);
  }

  private boolean holds(DatabaseVersion version) {
    int first = version.first().orElseThrow();
    return later.contains(first)
        || (first == oldest.get(0) && version.from(oldest.toArray(Integer[]::new)));
  }

  private String shown() {
    String start = oldest.stream().map(String::valueOf).collect(Collectors.joining("."));
    return Stream.concat(
            Stream.of(start + (oldest.size() > 1 ? " and later" : "")),
            later.stream().map(String::valueOf))
        .collect(Collectors.joining(", "));
  }
}
