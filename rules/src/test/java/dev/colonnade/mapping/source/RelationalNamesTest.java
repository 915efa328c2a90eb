package dev.colonnade.mapping.source;

import static org.assertj.core.api.Assertions.assertThat;

import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;
import org.springframework.data.util.ParsingUtils;

/** Names that nobody writes, against what Spring Data's default naming strategy calls. */
final class RelationalNamesTest {
  @ParameterizedTest
  @ValueSource(
      strings = {
        "Vessel",
        "callSign",
        "BerthBooking",
        "URL",
        "homeURL",
        "URLPath",
        "IMONumber",
        "line2Text",
        "berth2B",
        "berth2",
        "aB",
        "x",
        "A",
        "snake_case",
        "Snake_Case",
        "dollar$Sign",
        "gr\u00f6\u00dfe",
        "\u00c4nderung",
        "letzte\u00c4nderung",
        "m\u00c4rz"
      })
  void words_are_parted_alike(String name) {
    assertThat(RelationalNames.of(name)).isEqualTo(ParsingUtils.reconcatenateCamelCase(name, "_"));
  }
}
