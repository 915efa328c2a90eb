package dev.colonnade.schema.sql;

import static org.assertj.core.api.Assertions.assertThat;

import dev.colonnade.dialect.Dialect;
import dev.colonnade.dialect.Dialects;
import dev.colonnade.dialect.StatementRules;
import java.util.List;
import java.util.Optional;
import liquibase.util.StringUtil;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;

/** Where an end delimiter ends a statement, held against Liquibase's own cut. */
class EndDelimitersTest {
  private static final String SCRIPT =
      """
      create table category (going int, a int)
      %1$s
      comment on column category.a is 'it''s; a %1$s b'
      %1$s
      select 1 / 2 from category -- not %1$s yet
      %1$s
      insert into mooring values ('a@b', 'go', '/')
      %1$s
      select ongoing, "x %1$s y" from category /* %1$s */ where a > 1
      %1$s
      """;

  @ParameterizedTest
  @ValueSource(strings = {"/", "@", "GO", "//", "$$END$$", "^^^"})
  void cuts_where_liquibase_cuts(String delimiter) {
    Dialect dialect = delimiter.equals("GO") ? Dialects.mssql() : Dialects.oracle();
    String script = SCRIPT.replace("%1$s", delimiter);
    List<String> ours =
        StatementSplitter.split(script, Optional.of(delimiter), StatementRules.of(dialect)).stream()
            .map(statement -> words(script, statement))
            .toList();
    List<String> theirs =
        List.of(StringUtil.processMultiLineSQL(script, true, true, delimiter)).stream()
            .map(text -> text.replaceAll("\\s", ""))
            .toList();
    assertThat(ours).containsExactlyElementsOf(theirs).hasSize(5);
  }

  private static String words(String script, GuardedStatement statement) {
    StringBuilder text = new StringBuilder();
    statement.tokens().forEach(token -> text.append(script, token.start(), token.end()));
    return text.toString().replaceAll("\\s", "");
  }
}
