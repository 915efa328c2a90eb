package dev.colonnade.query.source;

import static org.assertj.core.api.Assertions.assertThat;

import java.util.ArrayList;
import java.util.List;
import java.util.Random;
import org.junit.jupiter.api.Test;

final class SqlSplitterTest {
  private static final List<String> PIECES =
      List.of(
          "select 1",
          "':x;'",
          "'it''s; '",
          "E'\\';\\\\'",
          "\"a;\"\"b\"",
          "`c;`",
          "$$;'$$",
          "$q$ $$;$q$",
          "$1",
          "a$b",
          "-- ;'\n",
          "/* ;\" */",
          ":name",
          "->>'{a;b}'",
          "\n",
          "case'y;'",
          "x - -1",
          "4 / 2 * 3");

  /** Statements put together from pieces come apart as they were, line by line. */
  @Test
  void what_was_joined_by_semicolons_comes_apart_again() {
    for (long seed = 0; seed < 2_000; seed++) {
      Random random = new Random(seed);
      List<String> statements = new ArrayList<>();
      List<Integer> lines = new ArrayList<>();
      StringBuilder text = new StringBuilder();
      for (int i = 0; i < 1 + random.nextInt(5); i++) {
        text.append(List.of("", " ", "\n", "-- ; comment\n", "/* '\n */ ").get(random.nextInt(5)));
        lines.add(1 + (int) text.chars().filter(c -> c == '\n').count());
        String statement = statement(random);
        statements.add(statement);
        text.append(statement).append(List.of(";", " ;", "\n;;").get(random.nextInt(3)));
      }

      List<SqlSplitter.Statement> split = SqlSplitter.split(text.toString());

      assertThat(split)
          .as("seed %d: %s", seed, text)
          .extracting(SqlSplitter.Statement::text)
          .containsExactlyElementsOf(statements);
      assertThat(split)
          .as("seed %d: %s", seed, text)
          .extracting(SqlSplitter.Statement::line)
          .containsExactlyElementsOf(lines);
    }
  }

  private static String statement(Random random) {
    StringBuilder statement = new StringBuilder("select");
    for (int i = 0; i < random.nextInt(6); i++) {
      statement.append(' ').append(PIECES.get(random.nextInt(PIECES.size())));
    }
    return statement.append(" x").toString();
  }
}
