package dev.colonnade.sql;

import static org.assertj.core.api.Assertions.assertThat;

import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.junit.jupiter.params.provider.ValueSource;

class RewriterTest {
  @ParameterizedTest
  @ValueSource(
      strings = {
        ":vessel",
        ":vessel.name",
        ":1",
        "?",
        "?1",
        "$1",
        "@vessel",
        "#{vessel}",
        "#{vessel.id,jdbcType=BIGINT}",
        "${flag}",
        ":#{#vessel.id}",
        ":#{#pilots.![id]}",
        "?#{[0]}"
      })
  void replaces_a_placeholder_and_gives_it_back(String placeholder) {
    String sql = "select a from t where b = " + placeholder + " and c = 1";
    Placeholders rewritten = Rewriter.rewrite(sql, "postgresql");
    assertThat(rewritten.text()).isEqualTo("select a from t where b = :p__0 and c = 1");
    assertThat(rewritten.restore(rewritten.text())).isEqualTo(sql);
  }

  @ParameterizedTest
  @ValueSource(
      strings = {
        "select ':x ? #{y} ${z} @p $1'",
        "select 'it''s :x'",
        "select \":x\" from t",
        "select 1 -- :x ? #{y}",
        "select 1 /* :x ? */ + 2",
        "select a::text, b::varchar(3) from t",
        "select $$ :x ? $$",
        "select $tag$ :x $$ ? $tag$",
        "select a from t where b ? 'k'",
        "select a from t where b ?| array['k']",
        "select a from t where b ?& array['k']",
        "select a from t where b @> c and d @@ e",
        "select a < b, c > d from t",
        "select a from t where b < c and d > e"
      })
  void leaves_alone_what_is_no_placeholder(String sql) {
    assertThat(Rewriter.rewrite(sql, "postgresql").text()).isEqualTo(sql);
  }

  @ParameterizedTest
  @CsvSource(
      delimiter = '~',
      quoteCharacter = '°',
      textBlock =
          """
          postgresql ~ select a from t where b = ?||'%'          ~ select a from t where b = :p__0||'%'
          postgresql ~ select a from t where b ?? 'k'            ~ select a from t where b  ? 'k'
          postgresql ~ select b#>>'{k}' from t where b#-'{k}' = 'x#>y' ~ select b #>>'{k}' from t where b #-'{k}' = 'x#>y'
          oracle     ~ select b#>1 from t                         ~ select b#>1 from t
          oracle     ~ select a from t where b like ? {escape '!'} ~ select a from t where b like :p__0 escape '!'
          postgresql ~ select :a::date, ?::int                   ~ select :p__0::date, :p__1::int
          postgresql ~ select a from t where b in (<ids>)        ~ select a from t where b in (:p__0)
          postgresql ~ select e'it\\'s'                          ~ select e'it''s'
          postgresql ~ select uuid, cast(a as uuid) from t       ~ select "uuid", cast(a as uuid) from t
          postgresql ~ create table t (uuid uuid, number int)    ~ create table t (uuid uuid, number int)
          oracle     ~ select a from t as of timestamp :x where b = 1  ~ select a from t   where b = 1
          mysql      ~ select 'it\\'s :x', ?                     ~ select 'it\\'s :x', :p__0
          mysql      ~ select a from t lock in share mode        ~ select a from t for share
          mysql      ~ select a from t use index (x) where b = ? ~ select a from t   where b = :p__0
          mysql      ~ select a from t force index for join (x, y) ignore index (z), u ~ select a from t    , u
          mssql      ~ select a from [x ? y] with (nolock, index(ix)) where b = @p ~ select a from [x ? y]   where b = :p__0
          sqlite     ~ select a from t indexed by ix where b glob 'x*' ~ select a from t   where b MATCH_ANY 'x*'
          sqlite     ~ select a from t where b is 5 and c is not ? and d is null ~ select a from t where b is not distinct from 5 and c is distinct from :p__0 and d is null
          sqlite     ~ select a from t where b = $name           ~ select a from t where b = :p__0
          """)
  void knows_the_forms_of_each_database(String database, String written, String expected) {
    assertThat(Rewriter.rewrite(written, database).text()).isEqualTo(expected);
  }

  @Test
  void hides_hash_comments_and_blank_lines() {
    assertThat(Rewriter.rewrite("select 1 # :x\n from t", "mysql").text())
        .isEqualTo("select 1  \n from t");
    assertThat(Rewriter.rewrite("select 1\n\n\n  from t", "mysql").text())
        .isEqualTo("select 1\nfrom t");
  }

  @Test
  void keeps_places() {
    String sql = "select a\n\n\nfrom t where b = #{something long}\n  and c = :x wrong";
    Placeholders rewritten = Rewriter.rewrite(sql, "postgresql");
    int at = rewritten.text().indexOf("wrong");
    int line = (int) rewritten.text().substring(0, at).lines().count();
    int column = at - rewritten.text().lastIndexOf('\n', at);
    assertThat(rewritten.originalPlace(line, column)).containsExactly(5, 14);
  }
}
