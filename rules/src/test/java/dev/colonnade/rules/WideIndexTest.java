package dev.colonnade.rules;

import static org.assertj.core.api.Assertions.assertThat;

import dev.colonnade.dialect.Dialects;
import dev.colonnade.finding.Finding;
import java.util.stream.Collectors;
import java.util.stream.IntStream;
import org.junit.jupiter.api.Test;

class WideIndexTest {
  private static final RuleTester NOTICE =
      RuleTester.of(new WideIndex())
          .table(
              "notice",
              "id bigint primary key, berth_id bigint not null, title varchar(100) not null,"
                  + " body varchar(400) not null, extra varchar(400)");

  @Test
  void a_second_copy_of_the_table_is_wide() {
    NOTICE
        .index("ix", "notice (berth_id, title, body, extra)")
        .reports("entries of ix are nearly as wide as rows of notice", "(assumed)");
  }

  @Test
  void included_columns_count() {
    NOTICE.index("ix", "notice (berth_id) include (title, body, extra)").reports("wide-index");
  }

  @Test
  void a_part_of_the_row_is_not() {
    NOTICE.index("ix", "notice (berth_id, title)").staysSilent();
  }

  @Test
  void the_share_is_an_option() {
    RuleTester wide = NOTICE.index("ix", "notice (berth_id, title, body, extra)");
    wide.option(WideIndex.MAXIMUM_SHARE, 1.5).staysSilent();
    NOTICE
        .index("ix", "notice (berth_id, title)")
        .option(WideIndex.MAXIMUM_SHARE, 0.1)
        .reports("wide");
  }

  /** MySQL manual: 3072 bytes with the DYNAMIC row format. */
  @Test
  void a_declared_key_beyond_the_limit_is_certain() {
    RuleTester long_key =
        RuleTester.of(new WideIndex())
            .on(Dialects.mysql())
            .table("notice", "id bigint primary key, body varchar(4000)");
    long_key
        .index("ix", "notice (body)")
        .reports("ix is wider than MySQL allows", "takes 4000 bytes", "allows 3072");
    long_key.index("ix", "notice (body(200))").staysSilent();
    assertThat(long_key.index("ix", "notice (body)").findings())
        .extracting(Finding::restsOnAssumption)
        .containsExactly(false);
  }

  /** PostgreSQL manual, 11.3: at most 32 columns. */
  @Test
  void too_many_columns_are_certain() {
    String columns =
        IntStream.rangeClosed(1, 33).mapToObj(i -> "c" + i).collect(Collectors.joining(", "));
    RuleTester.of(new WideIndex())
        .table("grid", columns.replace(",", " boolean,") + " boolean")
        .index("ix", "grid (" + columns + ")")
        .reports("33 key columns; PostgreSQL allows 32");
  }

  @Test
  void stated_widths_are_believed() {
    NOTICE.index("ix", "notice (berth_id, title, body, extra)").reports("assumed");
  }
}
