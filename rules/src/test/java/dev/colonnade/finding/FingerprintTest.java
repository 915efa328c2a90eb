package dev.colonnade.finding;

import static org.assertj.core.api.Assertions.assertThat;

import dev.colonnade.location.SourceLocation;
import dev.colonnade.predicate.Identifier;
import dev.colonnade.query.Query;
import dev.colonnade.query.QuerySource;
import dev.colonnade.query.QueryText;
import dev.colonnade.query.StatementKind;
import java.util.List;
import org.junit.jupiter.api.Test;

class FingerprintTest {
  private static final Identifier BERTH = Identifier.of("berth");
  private static final List<Identifier> NAME = List.of(Identifier.of("name"));

  private static Fingerprint of(String id, int line, QuerySource source, String sql) {
    QueryText text = new QueryText(id, SourceLocation.of("q.sql", line), source, sql, sql);
    return Fingerprint.ofQuery(
        "covering", new Query(text, StatementKind.SELECT, List.of()), BERTH, NAME);
  }

  @Test
  void a_method_keeps_it_when_lines_and_text_change() {
    assertThat(of("Berths.byName", 10, QuerySource.ANNOTATION, "select 1"))
        .isEqualTo(of("Berths.byName", 99, QuerySource.ANNOTATION, "select 2"))
        .isNotEqualTo(of("Berths.byCode", 10, QuerySource.ANNOTATION, "select 1"));
  }

  @Test
  void a_statement_in_a_file_keeps_it_when_it_moves_and_is_laid_out_differently() {
    assertThat(of("q.sql:1", 1, QuerySource.FILE, "select 1\n  from berth"))
        .isEqualTo(of("q.sql:7", 7, QuerySource.FILE, "SELECT 1 from berth"))
        .isNotEqualTo(of("q.sql:1", 1, QuerySource.FILE, "select 2 from berth"));
  }

  @Test
  void letter_case_of_names_does_not_show() {
    assertThat(Fingerprint.ofIndex("covering", Identifier.of("IX"), Identifier.of("BERTH"), NAME))
        .isEqualTo(
            Fingerprint.ofIndex("covering", Identifier.of("ix"), Identifier.of("\"berth\""), NAME));
  }

  /** Reference value: {@code printf 'covering\nindex ix\nberth\nname' | sha256sum}. */
  @Test
  void it_is_the_head_of_a_digest() {
    assertThat(
            Fingerprint.ofIndex("covering", Identifier.of("ix"), Identifier.of("berth"), NAME)
                .value())
        .isEqualTo("28b25e782fbccce40ebf4e33b2687058");
    assertThat(Fingerprint.NAME).matches("[A-Za-z]+/v\\d+");
  }
}
