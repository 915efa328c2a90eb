package dev.colonnade.query.source;

import static java.nio.charset.StandardCharsets.ISO_8859_1;
import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.tuple;

import dev.colonnade.location.NotUnderstood;
import dev.colonnade.location.SourceLocation;
import dev.colonnade.query.QuerySource;
import dev.colonnade.query.QueryText;
import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.List;
import java.util.Optional;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

final class SqlFileReaderTest {
  @TempDir Path base;

  private FoundQueries read(String text) throws IOException {
    return new SqlFileReader(base).read(List.of(Files.writeString(base.resolve("q.sql"), text)));
  }

  @Test
  void statement_is_named_after_the_line_it_starts_on() throws IOException {
    FoundQueries found =
        read(
            """
            -- vessels; all of them
            /* on two;
               lines */
              select *
              from vessel; select 2 from vessel;

            ;; -- nothing
            select 3 -- the last; without end
            from vessel
            """);

    assertThat(found.queries())
        .extracting(QueryText::id, QueryText::text)
        .containsExactly(
            tuple("q.sql:4", "select *\n  from vessel"),
            tuple("q.sql:5", "select 2 from vessel"),
            tuple("q.sql:8", "select 3 -- the last; without end\nfrom vessel"));
    assertThat(found.queries().get(0).location())
        .isEqualTo(new SourceLocation("q.sql", 4, 3, Optional.empty()));
    assertThat(found.queries().get(1).location().column()).isEqualTo(16);
    assertThat(found.queries().get(2).lineOfText(2)).isEqualTo(SourceLocation.of("q.sql", 9));
    assertThat(found.queries()).allMatch(query -> query.source() == QuerySource.FILE);
  }

  @Test
  void two_statements_of_one_line_have_two_ids() throws IOException {
    assertThat(read("select 1; select 2; select 3").queries())
        .extracting(QueryText::id)
        .containsExactly("q.sql:1", "q.sql:1~2", "q.sql:1~3");
  }

  /**
   * Quoting as in the PostgreSQL 18 manual, section 4.1.2: doubled quotes, {@code E'...'} with
   * backslashes, dollar quotes with and without tag; {@code $1} is a parameter.
   */
  @Test
  void semicolons_inside_quotes_and_comments_end_nothing() throws IOException {
    assertThat(
            read("""
            select ';', 'it''s;', "a;b", `c;d`, E'\\';', 'back\\' from a;
            select $$;$$, $tag$ $$ ; $tag$, x$y from b where id = $1;
            select /* ; ' */ 1 -- ; "
            from c;
            """)
                .queries())
        .extracting(QueryText::id)
        .containsExactly("q.sql:1", "q.sql:2", "q.sql:3");
  }

  @Test
  void quote_without_end_reaches_to_the_end_of_the_file() throws IOException {
    assertThat(read("select 1;\nselect 'open; from a;\nselect 2;").queries())
        .extracting(QueryText::text)
        .containsExactly("select 1", "select 'open; from a;\nselect 2;");
    assertThat(read("select 1; /* open ; select 2").queries()).hasSize(1);
    assertThat(read("select $a$ ; ").queries()).hasSize(1);
    assertThat(read("select E'\\").queries()).hasSize(1);
  }

  @Test
  void byte_order_mark_and_windows_line_ends_are_fine() throws IOException {
    assertThat(read("\uFEFFselect 1;\r\n\r\nselect 2;\r\n").queries())
        .extracting(QueryText::id, QueryText::text, query -> query.location().column())
        .containsExactly(tuple("q.sql:1", "select 1", 1), tuple("q.sql:3", "select 2", 1));
  }

  @Test
  void file_that_cannot_be_read_is_one_entry_and_the_rest_is_read() throws IOException {
    Path good = Files.writeString(base.resolve("good.sql"), "select 1");
    Path bad = Files.write(base.resolve("bad.sql"), "select 'é'".getBytes(ISO_8859_1));
    Path missing = base.resolve("missing.sql");

    FoundQueries found = new SqlFileReader(base).read(List.of(missing, good, bad, good));

    assertThat(found.queries()).extracting(QueryText::id).containsExactly("good.sql:1");
    assertThat(found.unreadable())
        .containsExactly(
            new NotUnderstood(SourceLocation.of("bad.sql"), "the file is not valid UTF-8"),
            new NotUnderstood(SourceLocation.of("missing.sql"), "the file cannot be read"));
    assertThat(found.total()).isEqualTo(1);
  }

  @Test
  void order_of_files_does_not_matter() throws IOException {
    Files.createDirectories(base.resolve("sql"));
    Path a = Files.writeString(base.resolve("sql/a.sql"), "select 1");
    Path b = Files.writeString(base.resolve("b.sql"), "select 2");

    assertThat(new SqlFileReader(base).read(List.of(a, b)))
        .isEqualTo(new SqlFileReader(base).read(List.of(b, a)));
    assertThat(new SqlFileReader(base).read(List.of(a, b)).queries())
        .extracting(QueryText::id)
        .containsExactly("b.sql:1", "sql/a.sql:1");
  }

  @Test
  void empty_file_has_no_statements() throws IOException {
    assertThat(read("").total()).isZero();
    assertThat(read("\uFEFF").total()).isZero();
  }
}
