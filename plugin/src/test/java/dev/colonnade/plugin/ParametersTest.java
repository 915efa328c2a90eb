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

  @Test
  @InjectMojo(goal = "check")
  @MojoParameter(name = "changelogFile", value = " ")
  void a_blank_changelog_is_none(CheckMojo mojo) {
    complains(mojo, "changelogFile: not set; it names the root changelog");
  }

  @Test
  @InjectMojo(goal = "check")
  @MojoParameter(name = "changelogFile", value = "db/harbour.xml")
  @MojoParameter(name = "changelogs", value = "db/a.xml,db/b.xml")
  void one_way_to_name_changelogs(CheckMojo mojo) {
    complains(mojo, "changelogs: set this or changelogFile, not both");
  }

  @Test
  @InjectMojo(goal = "check", pom = "changelog-without-file.xml")
  void a_changelog_of_several_needs_its_file(CheckMojo mojo) {
    complains(mojo, "changelog-without-file.xml", "changelogs: an element has no file");
  }

  @Test
  @InjectMojo(goal = "check")
  @MojoParameter(name = "changelogFile", value = "db/harbour.xml")
  @MojoParameter(name = "changelogDirectories", value = "no-such-directory")
  void changelog_directories_exist(CheckMojo mojo) {
    complains(mojo, "changelogDirectories: no-such-directory is not a directory");
  }

  @Test
  @InjectMojo(goal = "check")
  @MojoParameter(name = "changelogFile", value = "db/harbour.xml")
  void a_database_is_needed(CheckMojo mojo) {
    complains(mojo, "database: not set");
  }

  @Test
  @InjectMojo(goal = "check")
  @MojoParameter(name = "changelogFile", value = "db/harbour.xml")
  @MojoParameter(name = "database", value = "postgresql")
  @MojoParameter(name = "changelogParametersText", value = "owner=port, =x")
  void parameters_on_the_command_line_have_names(CheckMojo mojo) {
    complains(mojo, "changelogParameters: '=x' on the command line is not of the form name=value");
  }

  @Test
  @InjectMojo(goal = "check", pom = "precondition-results.xml")
  void preconditions_hold_or_do_not(CheckMojo mojo) {
    complains(
        mojo,
        "precondition-results.xml",
        "preconditionResults: 'perhaps' for 1::harbour is neither true nor false");
  }

  @Test
  @InjectMojo(goal = "check", pom = "query-files-without-directory.xml")
  void a_file_set_has_a_directory(CheckMojo mojo) {
    complains(
        mojo,
        "query-files-without-directory.xml",
        "queryFiles: no-such-directory is not a directory");
  }

  @Test
  @InjectMojo(goal = "check", pom = "annotation-without-class.xml")
  void a_query_annotation_has_a_class(CheckMojo mojo) {
    complains(
        mojo, "annotation-without-class.xml", "queryAnnotations: an element has no className");
  }

  @Test
  @InjectMojo(goal = "check")
  @MojoParameter(name = "changelogFile", value = "db/harbour.xml")
  @MojoParameter(name = "database", value = "postgresql")
  @MojoParameter(name = "statisticsFile", value = "colonnade/counts.yaml")
  void a_statistics_file_that_is_named_exists(CheckMojo mojo) {
    complains(mojo, "statisticsFile: colonnade/counts.yaml does not exist");
  }

  @Test
  @InjectMojo(goal = "check")
  @MojoParameter(name = "changelogFile", value = "db/harbour.xml")
  @MojoParameter(name = "database", value = "postgresql")
  @MojoParameter(name = "severitiesText", value = "covering=note,wide-index=loud")
  void a_severity_is_one_of_four_words(CheckMojo mojo) {
    complains(
        mojo, "severities: 'loud' for rule wide-index is not one of error, warning, note, off");
  }

  @Test
  @InjectMojo(goal = "check")
  @MojoParameter(name = "changelogFile", value = "db/harbour.xml")
  @MojoParameter(name = "database", value = "postgresql")
  @MojoParameter(name = "failOn", value = "sometimes")
  void fail_on_is_one_of_three_words(CheckMojo mojo) {
    complains(mojo, "failOn: 'sometimes' is not one of error, warning, never");
  }

  private static void complains(CheckMojo mojo, String trouble) {
    complains(mojo, "pom.xml", trouble);
  }

  private static void complains(CheckMojo mojo, String pom, String trouble) {
    assertThatThrownBy(mojo::execute)
        .isInstanceOf(MojoExecutionException.class)
        .satisfies(
            thrown ->
                assertThat(thrown.getMessage().replace('\\', '/'))
                    .endsWith("src/test/resources/service/" + pom + ": " + trouble));
  }
}
