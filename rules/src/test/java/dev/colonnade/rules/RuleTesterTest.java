package dev.colonnade.rules;

import static org.assertj.core.api.Assertions.assertThatCode;
import static org.assertj.core.api.Assertions.assertThatThrownBy;

import dev.colonnade.finding.Evidence.Label;
import dev.colonnade.finding.Finding;
import dev.colonnade.finding.Suggestion;
import dev.colonnade.finding.Suggestion.CreateIndex;
import dev.colonnade.finding.Suggestion.DropIndex;
import dev.colonnade.location.SourceLocation;
import dev.colonnade.rule.Category;
import dev.colonnade.rule.RuleContext;
import dev.colonnade.rule.RuleMetadata;
import dev.colonnade.rule.SchemaRule;
import dev.colonnade.schema.Index;
import dev.colonnade.schema.KeyColumn;
import dev.colonnade.schema.Table;
import java.util.List;
import java.util.function.Function;
import org.junit.jupiter.api.Test;

/** The tester fails when it should, and says what is needed to see why. */
class RuleTesterTest {
  private static final RuleTester MISSING =
      RuleTester.of(new MissingIndex())
          .table("booking", "id bigint primary key, berth_id bigint, note varchar(200)");

  @Test
  void passes_when_the_expectation_holds() {
    assertThatCode(
            () ->
                MISSING
                    .query("select note from booking where berth_id = ?")
                    .reports("missing-index", "full-table-scan", "create index"))
        .doesNotThrowAnyException();
  }

  @Test
  void fails_on_silence_where_a_finding_is_expected() {
    assertThatThrownBy(() -> MISSING.query("select note from booking where id = ?").reports())
        .isInstanceOf(AssertionError.class)
        .hasMessageContaining("one finding expected")
        .hasMessageContaining("rule missing-index on postgresql")
        .hasMessageContaining("booking: ")
        .hasMessageContaining("query select note from booking where id = ?")
        .hasMessageContaining("chosen booking_pkey: unique-lookup booking booking_pkey(id = ?)")
        .hasMessageContaining("candidate booking_pkey: ");
  }

  @Test
  void fails_on_a_finding_where_silence_is_expected() {
    assertThatThrownBy(
            () -> MISSING.query("select note from booking where berth_id = ?").staysSilent())
        .isInstanceOf(AssertionError.class)
        .hasMessageContaining("silence expected")
        .hasMessageContaining("[missing-index]");
  }

  @Test
  void fails_on_text_that_the_finding_lacks() {
    assertThatThrownBy(
            () ->
                MISSING
                    .query("select note from booking where berth_id = ?")
                    .reports("create index", "full-table-scan"))
        .isInstanceOf(AssertionError.class)
        .hasMessageContaining("the finding lacks: full-table-scan");
  }

  @Test
  void fails_on_sql_that_is_not_understood() {
    assertThatThrownBy(() -> MISSING.query("select note from quay").staysSilent())
        .isInstanceOf(AssertionError.class)
        .hasMessageContaining("the query is not understood");
    assertThatThrownBy(() -> MISSING.ddl("create index on").staysSilent())
        .isInstanceOf(AssertionError.class)
        .hasMessageContaining("the schema is not understood");
  }

  @Test
  void fails_when_the_metadata_is_malformed() {
    assertThatThrownBy(() -> advising("Ends with a full stop.", table -> List.of()).staysSilent())
        .isInstanceOf(AssertionError.class)
        .hasMessageContaining("summary ends with a full stop");
  }

  @Test
  void fails_when_the_finding_survives_its_suggestion() {
    assertThatThrownBy(
            () -> advising("says so always", table -> List.of(create(table, "note"))).findings())
        .isInstanceOf(AssertionError.class)
        .hasMessageContaining("still found after: create index ix_new(note)");
  }

  @Test
  void fails_when_a_new_index_makes_nothing_cheaper() {
    Function<Table, List<Suggestion>> once =
        table ->
            table.indexes().stream().anyMatch(index -> index.name().text().equals("ix_new"))
                ? null
                : List.of(create(table, "note"));
    assertThatThrownBy(() -> advising("says so once", once).findings())
        .isInstanceOf(AssertionError.class)
        .hasMessageContaining("no cheaper after create index ix_new(note)");
  }

  @Test
  void fails_when_a_query_suffers_from_a_dropped_index() {
    Function<Table, List<Suggestion>> once =
        table ->
            table.indexes().stream()
                .filter(index -> index.name().text().equals("ix_berth"))
                .findFirst()
                .<List<Suggestion>>map(index -> List.of(new DropIndex(index)))
                .orElse(null);
    assertThatThrownBy(() -> advising("drops what is needed", once).findings())
        .isInstanceOf(AssertionError.class)
        .hasMessageContaining("a query is read in a worse way after: drop index ix_berth");
  }

  private static CreateIndex create(Table table, String column) {
    return new CreateIndex(
        Index.of(
            "ix_new",
            table.name().text(),
            false,
            List.of(KeyColumn.ascending(column)),
            SourceLocation.of("changelog.sql")));
  }

  /** A rule that gives bad advice about every table; null for none. */
  private static RuleTester advising(String summary, Function<Table, List<Suggestion>> advice) {
    return RuleTester.of(new BadAdvice(summary, advice))
        .table("booking", "id bigint primary key, berth_id bigint, note varchar(200)")
        .index("ix_berth", "booking (berth_id)")
        .query("select note from booking where berth_id = ?");
  }

  private record BadAdvice(String summary, Function<Table, List<Suggestion>> advice)
      implements SchemaRule {
    @Override
    public RuleMetadata metadata() {
      return RuleMetadata.rule(BadAdvice.class)
          .summary(summary)
          .category(Category.SHAPE)
          .since("0.1")
          .build();
    }

    @Override
    public List<Finding> check(Table table, RuleContext context) {
      List<Suggestion> suggestions = advice.apply(table);
      if (suggestions == null) {
        return List.of();
      }
      Finding.Builder finding = context.finding(metadata(), table.indexes().get(0));
      suggestions.forEach(
          suggestion -> finding.suggest(suggestion).line(Label.FIX, suggestion.render()));
      return List.of(finding.build("bad advice"));
    }
  }
}
