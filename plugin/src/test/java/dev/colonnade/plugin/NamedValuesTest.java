package dev.colonnade.plugin;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.entry;

import java.nio.file.Path;
import java.util.HashMap;
import java.util.Map;
import org.apache.maven.plugin.MojoExecutionException;
import org.junit.jupiter.api.Test;

class NamedValuesTest {
  private static final Complaint COMPLAINT = new Complaint(Path.of("pom.xml"));

  @Test
  void the_command_line_goes_over_the_pom() throws MojoExecutionException {
    assertThat(merge(Map.of("owner", "port", "pier", "A"), " pier = B ,mode=a=b"))
        .containsExactly(entry("mode", "a=b"), entry("owner", "port"), entry("pier", "B"));
  }

  @Test
  void neither_gives_none() throws MojoExecutionException {
    assertThat(merge(null, null)).isEmpty();
    assertThat(merge(Map.of(), " ")).isEmpty();
  }

  @Test
  void an_empty_element_of_the_pom_is_an_empty_value() throws MojoExecutionException {
    Map<String, String> configured = new HashMap<>();
    configured.put("owner", null);
    assertThat(merge(configured, "pier=")).containsExactly(entry("owner", ""), entry("pier", ""));
  }

  private static Map<String, String> merge(Map<String, String> configured, String text)
      throws MojoExecutionException {
    return NamedValues.merge(COMPLAINT, "changelogParameters", configured, text);
  }
}
