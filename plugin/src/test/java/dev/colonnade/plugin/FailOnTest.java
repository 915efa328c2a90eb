package dev.colonnade.plugin;

import static org.assertj.core.api.Assertions.assertThat;

import dev.colonnade.finding.Severity;
import java.util.stream.Stream;
import org.junit.jupiter.api.Test;

class FailOnTest {
  @Test
  void fails_on_its_own_severity_and_worse() {
    assertThat(failing(FailOn.ERROR)).containsExactly(Severity.ERROR);
    assertThat(failing(FailOn.WARNING)).containsExactly(Severity.ERROR, Severity.WARNING);
    assertThat(failing(FailOn.NEVER)).isEmpty();
  }

  private static Stream<Severity> failing(FailOn failOn) {
    return Stream.of(Severity.values()).filter(failOn::includes);
  }
}
