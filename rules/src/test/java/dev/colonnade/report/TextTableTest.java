package dev.colonnade.report;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;

import org.junit.jupiter.api.Test;

class TextTableTest {
  @Test
  void columns_are_as_wide_as_their_widest_cell() {
    TextTable table = new TextTable("a", "long heading", "c");
    table.row("wide cell", "x", "");
    table.row("b", "", "end");
    assertThat(table.lines())
        .containsExactly(
            "a          long heading  c", //
            "wide cell  x",
            "b                        end");
  }

  @Test
  void a_line_of_another_length_is_refused() {
    TextTable table = new TextTable("a", "b");
    assertThatThrownBy(() -> table.row("only one")).isInstanceOf(IllegalArgumentException.class);
  }
}
