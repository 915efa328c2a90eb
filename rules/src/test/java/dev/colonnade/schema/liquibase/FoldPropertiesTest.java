package dev.colonnade.schema.liquibase;

import static org.assertj.core.api.Assertions.assertThat;

import dev.colonnade.dialect.Dialects;
import dev.colonnade.location.SourceLocation;
import dev.colonnade.schema.Schema;
import dev.colonnade.schema.change.SchemaFold;
import dev.colonnade.schema.sql.DdlReader;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.Random;
import java.util.stream.LongStream;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.MethodSource;

/** What holds for every changelog, whether its statements fit together or not. */
class FoldPropertiesTest {
  private static final DdlReader READER = new DdlReader(Dialects.postgresql());

  static LongStream seeds() {
    return LongStream.range(1, 51);
  }

  private static List<String> statements(long seed) {
    RandomStatements random =
        new RandomStatements(seed, true, RandomWords.of(RealDatabase.POSTGRESQL));
    List<String> statements = new ArrayList<>();
    for (int i = 0; i < 40; i++) {
      statements.add(random.next());
    }
    return statements;
  }

  private static Schema fold(List<String> texts) {
    SchemaFold fold = new SchemaFold(Dialects.postgresql());
    for (String text : texts) {
      fold.applyAll(
          READER.read(text, Optional.empty(), offset -> SourceLocation.of("a.sql")).changes());
    }
    return fold.schema();
  }

  @ParameterizedTest
  @MethodSource("seeds")
  void a_split_changelog_leads_to_the_same_schema(long seed) {
    List<String> statements = statements(seed);
    assertThat(fold(List.of(String.join(";\n", statements)))).isEqualTo(fold(statements));
  }

  @ParameterizedTest
  @MethodSource("seeds")
  void a_table_added_and_dropped_leaves_no_trace(long seed) {
    List<String> statements = statements(seed);
    List<String> longer = new ArrayList<>(statements);
    longer.add(
        new Random(seed).nextInt(statements.size()),
        "create table pilot (id int primary key, a int unique); create index pilot_ix on pilot"
            + " (a, id); alter table pilot rename column a to b; drop table pilot");
    assertThat(fold(longer)).isEqualTo(fold(statements));
  }

  @ParameterizedTest
  @MethodSource("seeds")
  void an_index_added_and_dropped_leaves_no_trace(long seed) {
    List<String> statements = statements(seed);
    List<String> longer = new ArrayList<>(statements);
    longer.add("create index pilot_ix on vessel (a); drop index if exists pilot_ix");
    assertThat(fold(longer)).isEqualTo(fold(statements));
  }
}
