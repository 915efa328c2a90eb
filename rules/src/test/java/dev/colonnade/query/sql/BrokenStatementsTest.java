package dev.colonnade.query.sql;

import static org.assertj.core.api.Assertions.assertThat;

import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import java.util.Random;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;

/** Whatever the text, there is an answer; it is never an exception. */
class BrokenStatementsTest {
  private static final StatementFixture HARBOUR =
      StatementFixture.of(
          "postgresql",
          "vessel(id, name, length, flag)",
          "booking(id, vessel_id, status, starts_on, price)");
  private static final List<String> DATABASES =
      List.of(
          "postgresql",
          "mysql",
          "mariadb",
          "oracle",
          "mssql",
          "db2",
          "sqlite",
          "h2",
          "hsqldb",
          "derby");
  private static final List<String> STATEMENTS =
      List.of(
          "select v.name, count(*) from vessel v left join booking b on b.vessel_id = v.id and"
              + " b.status in ('a', :s) where v.flag is not null group by v.name having count(*) >"
              + " 1 order by 2 desc limit 10 offset ?",
          "with x as (select id from vessel union all select vessel_id from booking where price"
              + " between 1 and 2) select * from x where exists (select 1 from vessel where"
              + " vessel.id = x.id) for update",
          "update booking b set price = (select max(length) from vessel v where v.id ="
              + " b.vessel_id), status = 'x' where (id, status) = (1, 'y')",
          "delete from booking using vessel where vessel.id = booking.vessel_id and name like"
              + " 'a%' escape '!'",
          "insert into vessel (id, name) select id, cast(status as varchar(10)) from booking where"
              + " starts_on > current_date - interval '1' day",
          "merge into vessel v using booking b on (v.id = b.vessel_id) when matched then update"
              + " set name = b.status when not matched then insert (id) values (b.vessel_id)",
          "select case when flag = 'x' then 1 else 0 end, sum(length) over (partition by flag"
              + " order by id), {d '2020-01-01'} from vessel natural join booking where id = any(?)"
              + " and name is not distinct from 'x' fetch first 5 rows only");

  @Test
  void survives_mutations() {
    long seed = 7;
    Random random = new Random(seed);
    int analysed = 0;
    int total = 4000;
    for (int i = 0; i < total; i++) {
      String database = DATABASES.get(random.nextInt(DATABASES.size()));
      String sql = mutated(random);
      try {
        if (HARBOUR.on(database).read(sql) instanceof StatementReading.Analysed) {
          analysed++;
        }
      } catch (RuntimeException e) {
        throw new AssertionError("seed " + seed + ", " + database + ": " + sql, e);
      }
    }
    assertThat(analysed).as("some mutations leave a sound statement").isBetween(100, total - 100);
  }

  private static String mutated(Random random) {
    List<String> words = words(STATEMENTS.get(random.nextInt(STATEMENTS.size())));
    int changes = 1 + random.nextInt(3);
    for (int i = 0; i < changes && !words.isEmpty(); i++) {
      int at = random.nextInt(words.size());
      switch (random.nextInt(3)) {
        case 0 -> words.remove(at);
        case 1 -> words.add(at, words.get(random.nextInt(words.size())));
        default -> {
          List<String> other = words(STATEMENTS.get(random.nextInt(STATEMENTS.size())));
          words.set(at, other.get(random.nextInt(other.size())));
        }
      }
    }
    return String.join("", words);
  }

  private static List<String> words(String sql) {
    return new ArrayList<>(Arrays.asList(sql.split("(?<=\\W)|(?=\\W)", -1)));
  }

  @ParameterizedTest
  @ValueSource(
      strings = {
        "",
        "   ",
        ";",
        "-- nothing",
        "select {d 'x'} from vessel",
        "select {ts 'x'} from vessel",
        "select 'open from vessel",
        "select \"open from vessel",
        "select /* open from vessel",
        "select * from vessel order by",
        "delete from where x = 1",
        "select #{open from vessel",
        "select :",
        "select ?",
        "(((((",
        "\u0000"
      })
  void answers_nonsense(String sql) {
    for (String database : DATABASES) {
      StatementReading reading = HARBOUR.on(database).read(sql);
      if (reading instanceof StatementReading.NotAnalysed not) {
        assertThat(not.query().reason()).isNotBlank().doesNotContain("Exception", "\n");
      } else {
        assertThat(sql).isEqualTo("select ?");
      }
    }
  }

  @Test
  void answers_depth() {
    String nested = "select 1 from vessel where " + "(".repeat(3000) + "id = 1" + ")".repeat(3000);
    assertThat(HARBOUR.reason(nested)).isEqualTo("SQL is nested too deeply");
    String subqueries = "select id from vessel";
    for (int i = 0; i < 30; i++) {
      subqueries = "select id from (" + subqueries + ") x" + i;
    }
    assertThat(HARBOUR.query(subqueries).blocks()).hasSize(1);
    assertThat(HARBOUR.on("h2").query(subqueries).blocks()).hasSize(31);
  }
}
