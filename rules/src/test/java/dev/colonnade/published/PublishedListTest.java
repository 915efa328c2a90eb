package dev.colonnade.published;

import static org.assertj.core.api.Assertions.assertThat;

import java.util.List;
import java.util.Map;
import java.util.Set;
import java.util.TreeMap;
import java.util.TreeSet;
import java.util.stream.Collectors;
import org.junit.jupiter.api.Test;

/** No published example goes missing: each is tested, or listed with the reason why not. */
class PublishedListTest {

  private static Set<String> rows() {
    return PublishedCaseReader.lines("rows.txt").stream()
        .filter(line -> !line.startsWith("#") && !line.isBlank())
        .flatMap(line -> List.of(line.split(" ", -1)).stream())
        .collect(Collectors.toCollection(TreeSet::new));
  }

  private static Map<String, String> notTested() {
    Map<String, String> reasons = new TreeMap<>();
    for (String line : PublishedCaseReader.lines("not-tested.txt")) {
      if (!line.startsWith("#") && !line.isBlank()) {
        int space = line.indexOf(' ');
        assertThat(reasons.put(line.substring(0, space), line.substring(space + 1).strip()))
            .as(line)
            .isNull();
      }
    }
    return reasons;
  }

  private static Set<String> tested() {
    Set<String> ids =
        PublishedCaseReader.all().stream()
            .map(PublishedCase::id)
            .collect(Collectors.toCollection(TreeSet::new));
    ids.addAll(PublishedSchemaExamplesTest.ROWS);
    return ids;
  }

  @Test
  void every_row_is_tested_or_listed_with_a_reason() {
    Set<String> known = tested();
    known.addAll(notTested().keySet());
    assertThat(known).isEqualTo(rows());
  }

  @Test
  void no_row_is_both() {
    assertThat(tested()).doesNotContainAnyElementsOf(notTested().keySet());
    assertThat(notTested().values())
        .allSatisfy(reason -> assertThat(reason).hasSizeGreaterThan(20));
  }

  @Test
  void most_rows_are_tested() {
    assertThat(tested()).hasSizeGreaterThan(340);
  }

  @Test
  void every_case_names_its_source_and_its_evidence() {
    assertThat(PublishedCaseReader.all())
        .allSatisfy(
            it -> {
              assertThat(it.source()).as(it.place()).isNotBlank();
              assertThat(it.evidence())
                  .as(it.place())
                  .isIn("DOC", "DOC+RUN", "RUN", "SEC", "MEM", "COMMON");
            });
  }
}
