package dev.colonnade.plugin;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;

import org.apache.maven.api.plugin.testing.Basedir;
import org.apache.maven.api.plugin.testing.InjectMojo;
import org.apache.maven.api.plugin.testing.MojoParameter;
import org.apache.maven.api.plugin.testing.MojoTest;
import org.apache.maven.plugin.MojoExecutionException;
import org.junit.jupiter.api.Test;

/** Bad parameters stop the goal with one line that names the pom and the parameter. */
@MojoTest
@Basedir("src/test/resources/service")
class ParametersTest {
  @Test
  @InjectMojo(goal = "check")
  @MojoParameter(name = "skip", value = "true")
  void skip_looks_at_no_other_parameter(CheckMojo mojo) throws Exception {
    mojo.execute();
  }

  @Test
  @InjectMojo(goal = "check")
  @MojoParameter(name = "database", value = "postgresql")
  void a_changelog_is_needed(CheckMojo mojo) {
    complains(mojo, "changelogFile: not set; it names the root changelog");
  }

  private static void complains(CheckMojo mojo, String expected) {
    assertThatThrownBy(mojo::execute)
        .isInstanceOf(MojoExecutionException.class)
        .satisfies(
            thrown ->
                assertThat(thrown.getMessage().replace('\\', '/'))
                    .endsWith("src/test/resources/service/pom.xml: " + expected));
  }
}
