package dev.colonnade.schema.liquibase;

import static org.assertj.core.api.Assertions.assertThat;

import dev.colonnade.dialect.Dialect;
import dev.colonnade.dialect.Dialects;
import dev.colonnade.schema.Schema;
import java.sql.Connection;
import java.sql.DriverManager;
import java.sql.SQLException;
import java.util.ArrayList;
import java.util.Collection;
import java.util.List;
import java.util.SortedSet;
import java.util.TreeSet;
import java.util.concurrent.atomic.AtomicInteger;

/** The databases whose catalogs are compared with the schemas that we derive. */
enum RealDatabase {
  /** PostgreSQL 18. */
  POSTGRESQL(Dialects.postgresql(), "public") {
    @Override
    Connection open() throws SQLException {
      return RealPostgres.newDatabase();
    }

    @Override
    Collection<String> indexLines(Connection connection) throws SQLException {
      return RealIndexes.postgresql(connection);
    }
  },
  /** H2, in memory. */
  H2(Dialects.h2(), "PUBLIC") {
    @Override
    Connection open() throws SQLException {
      // Otherwise no column can be called VALUE, as services do that were made with older versions.
      return DriverManager.getConnection("jdbc:h2:mem:;NON_KEYWORDS=VALUE");
    }

    @Override
    Collection<String> indexLines(Connection connection) throws SQLException {
      return RealIndexes.h2(connection);
    }
  },
  /** MariaDB 11.4. */
  MARIADB(Dialects.mariadb(), null) {
    @Override
    Connection open() throws SQLException {
      return RealMariaDb.newDatabase();
    }

    @Override
    Collection<String> indexLines(Connection connection) throws SQLException {
      return RealIndexes.mariadb(connection);
    }
  },
  /** SQLite, in memory. */
  SQLITE(Dialects.sqlite(), null) {
    @Override
    Connection open() throws SQLException {
      return DriverManager.getConnection("jdbc:sqlite::memory:");
    }

    @Override
    Collection<String> indexLines(Connection connection) throws SQLException {
      return RealIndexes.sqlite(connection);
    }

    /** JDBC's metadata says that a row number may be NULL; it cannot. */
    @Override
    SortedSet<String> tables(Connection connection) throws SQLException {
      SortedSet<String> lines = super.tables(connection);
      // JDBC's metadata mixes the columns of unnamed foreign keys.
      lines.removeIf(line -> line.contains(" references "));
      lines.addAll(RealIndexes.sqliteForeignKeys(connection));
      for (String row : RealIndexes.sqliteRowNumbers(connection)) {
        lines.remove(row);
        lines.add(row + " not null");
      }
      return lines;
    }
  },
  /** HSQLDB, in memory. */
  HSQLDB(Dialects.hsqldb(), "PUBLIC") {
    @Override
    Connection open() throws SQLException {
      // With the property, the memory goes with the last connection.
      return DriverManager.getConnection(
          "jdbc:hsqldb:mem:harbour" + OPENED.incrementAndGet() + ";shutdown=true");
    }

    @Override
    Collection<String> indexLines(Connection connection) throws SQLException {
      return RealIndexes.metadata(connection, "PUBLIC");
    }
  },
  /** Derby, in memory. */
  DERBY(Dialects.derby(), "APP") {
    @Override
    Connection open() throws SQLException {
      return DriverManager.getConnection(
          "jdbc:derby:memory:harbour" + OPENED.incrementAndGet() + ";create=true");
    }

    @Override
    Collection<String> indexLines(Connection connection) throws SQLException {
      return RealIndexes.derby(connection);
    }
  };

  private static final AtomicInteger OPENED = new AtomicInteger();

  private final Dialect dialect;
  private final String schema;

  RealDatabase(Dialect dialect, String schema) {
    this.dialect = dialect;
    this.schema = schema;
  }

  Dialect dialect() {
    return dialect;
  }

  /** A new empty database. */
  abstract Connection open() throws SQLException;

  abstract Collection<String> indexLines(Connection connection) throws SQLException;

  SortedSet<String> tables(Connection connection) throws SQLException {
    return RealSchema.tables(connection, schema);
  }

  /** Indexes, sorted and with repetitions. */
  List<String> indexes(Connection connection) throws SQLException {
    return comparable(indexLines(connection));
  }

  /** The indexes that we say the database has. */
  List<String> indexes(Schema derived) {
    return comparable(DerivedSchema.indexes(derived, dialect));
  }

  private static List<String> comparable(Collection<String> lines) {
    return lines.stream().map(RealIndexes::withoutGeneratedName).sorted().toList();
  }

  /** Tables, columns with nullability, keys, foreign keys and indexes must be the same. */
  void assertSame(Schema derived, Connection connection, String story) throws SQLException {
    assertThat(different(indexes(derived), indexes(connection))).as(story).isEmpty();
    SortedSet<String> tables = DerivedSchema.tables(derived);
    assertThat(different(tables, tables(connection))).as(story).isEmpty();
  }

  /** Lines that only we have, and lines that only the database has. */
  private static SortedSet<String> different(Collection<String> ours, Collection<String> theirs) {
    SortedSet<String> lines = new TreeSet<>();
    Collection<String> rest = new ArrayList<>(theirs);
    for (String line : ours) {
      if (!rest.remove(line)) {
        lines.add("invented: " + line);
      }
    }
    rest.forEach(line -> lines.add("missing: " + line));
    return lines;
  }
}
