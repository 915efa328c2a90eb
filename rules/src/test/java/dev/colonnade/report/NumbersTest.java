package dev.colonnade.report;

import static org.assertj.core.api.Assertions.assertThat;

import java.util.Locale;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

class NumbersTest {
  @ParameterizedTest
  @CsvSource({
    "0, 0",
    "12, 12",
    "12.25, 12.3",
    "12.04, 12",
    "0.04, 0",
    "-0.04, 0",
    "120000, 120000",
    "1.0E9, 1000000000",
    "1.0E30, 1000000000000000000000000000000",
    "3.3333333333, 3.3",
    "NaN, unknown",
    "Infinity, unknown"
  })
  void numbers_have_at_most_one_decimal_and_no_exponent(double value, String text) {
    assertThat(Numbers.text(value)).isEqualTo(text);
    assertThat(Numbers.json(value).isNull()).isEqualTo(text.equals("unknown"));
    if (Double.isFinite(value)) {
      assertThat(JsonText.write(Numbers.json(value))).isEqualTo(text + "\n");
    }
  }

  @Test
  void numbers_do_not_know_the_locale() {
    Locale before = Locale.getDefault();
    try {
      Locale.setDefault(Locale.forLanguageTag("ar-EG-u-nu-arab"));
      assertThat(Numbers.text(1234.5)).isEqualTo("1234.5");
    } finally {
      Locale.setDefault(before);
    }
  }
}
