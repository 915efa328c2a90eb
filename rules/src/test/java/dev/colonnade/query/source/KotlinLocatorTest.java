package dev.colonnade.query.source;

import static org.assertj.core.api.Assertions.assertThat;

import dev.colonnade.location.SourceLocation;
import dev.colonnade.query.source.SourceLocator.Place;
import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.List;
import java.util.Optional;
import java.util.OptionalInt;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

/** Places in Kotlin sources, in a file that is named otherwise and lies in no package's folder. */
final class KotlinLocatorTest {
  private static final String SOURCE =
      """
      @file:JvmName("Berths") // fun notHere(
      package harbour.berths

      /* interface Outer { /* nested */ @Query("no") fun all() } */
      const val OPEN = "state = 'OPEN' and ${"{"}"

      @Entity
      @NamedQuery(name = "Berth.free", query = "select b from Berth b where b.free = true")
      data class Berth(@Id val id: Long, @Column(name = "depth") val depth: Double?) {
        fun isDeep() = (depth ?: 0.0) > 10
        companion object {
          fun of(id: Long): Berth = Berth(id, null)
        }
      }

      interface Berths : CrudRepository<Berth, Long> {
        @Query("select b from Berth b where b.depth > :depth")
        fun deep(depth: Double): List<Berth>

        @Query(
          value = \"""
            select b from Berth b
            where b.id = :id
          \""",
          countQuery = "select count(b) from Berth b" + OPEN,
        )
        @Modifying
        suspend fun one(@Param("id") id: Long): Berth?

        fun findById(id: Int): Berth
        fun findById(ids: MutableList<Long>): List<Berth>
        fun `findByDepth`(
          depth: Map<String, Int> = mapOf("a" to 1), other: (Int) -> Unit
        ): Flow<Berth>

        interface Summary { fun getDepth(): Double }
      }

      class Plain
      object Nothing { @Query("x") fun nothing() = Berth::class }
      fun interface Single { @Query("select 1") fun single(): Int }
      fun Berths.extended(depth: Double) = deep(depth)
      """;

  @TempDir private Path base;
  private SourceLocator locator;

  @BeforeEach
  void write() throws IOException {
    Path sources = Files.createDirectories(base.resolve("src/main/kotlin"));
    Files.writeString(sources.resolve("all.kt"), SOURCE);
    locator = new SourceLocator(base, List.of(sources));
  }

  private static SourceLocation at(int line, int column) {
    return new SourceLocation("src/main/kotlin/all.kt", line, column, Optional.empty());
  }

  private Optional<Place> method(String type, String name, String annotation, String... types) {
    return locator.ofMethod("harbour.berths." + type, name, List.of(types), annotation, "value");
  }

  @Test
  void finds_annotations_of_functions_with_the_lines_of_their_texts() {
    assertThat(method("Berths", "deep", "Query", "double"))
        .contains(new Place(at(17, 3), OptionalInt.of(17)));
    assertThat(method("Berths", "one", "Query", "long", "Continuation"))
        .contains(new Place(at(20, 3), OptionalInt.of(21)));
    assertThat(method("Nothing", "nothing", "Query"))
        .contains(new Place(at(40, 18), OptionalInt.of(40)));
    assertThat(method("Single", "single", "Query"))
        .contains(new Place(at(41, 24), OptionalInt.of(41)));
  }

  @Test
  void knows_no_line_of_a_text_that_is_put_together() {
    assertThat(
            locator.ofMethod(
                "harbour.berths.Berths",
                "one",
                List.of("long", "Continuation"),
                "Query",
                "countQuery"))
        .contains(new Place(at(20, 3), OptionalInt.empty()));
  }

  @Test
  void finds_functions_without_annotations_by_their_name_and_the_types_of_their_parameters() {
    assertThat(method("Berths", "findById", "", "int")).map(Place::location).contains(at(30, 7));
    assertThat(method("Berths", "findById", "", "List")).map(Place::location).contains(at(31, 7));
    assertThat(method("Berths", "findByDepth", "", "Map", "Function1"))
        .map(Place::location)
        .contains(at(32, 7));
    assertThat(method("Berths$Summary", "getDepth", "")).map(Place::location).contains(at(36, 27));
    assertThat(method("Berth$Companion", "of", "", "long"))
        .map(Place::location)
        .contains(at(12, 9));
    assertThat(method("Berths", "extended", "", "double")).isEmpty();
    assertThat(method("Berths", "notHere", "")).isEmpty();
    assertThat(method("Outer", "all", "Query")).isEmpty();
  }

  /** Functions with a parameter of an inline class have a mark behind their names. */
  @Test
  void finds_functions_whose_names_the_compiler_changes() {
    assertThat(method("Berths", "findById-aQ1_x3", "", "int"))
        .map(Place::location)
        .contains(at(30, 7));
    assertThat(method("Berths", "deep$harbour", "Query", "double"))
        .map(Place::location)
        .contains(at(17, 3));
  }

  @Test
  void finds_types_and_their_annotations() {
    assertThat(locator.ofDeclaration("harbour.berths.Plain"))
        .map(Place::location)
        .contains(at(39, 7));
    assertThat(locator.ofType("harbour.berths.Berth", "Entity", "", ""))
        .map(Place::location)
        .contains(at(7, 1));
    assertThat(locator.ofType("harbour.berths.Berth", "NamedQuery", "query", "Berth.free"))
        .map(Place::location)
        .contains(at(8, 20));
  }

  @Test
  void passes_over_what_is_cut_off() throws IOException {
    Path sources = base.resolve("src/main/kotlin");
    for (int end = 0; end < SOURCE.length(); end += 7) {
      Files.writeString(sources.resolve("all.kt"), SOURCE.substring(0, end));
      SourceLocator other = new SourceLocator(base, List.of(sources));
      assertThat(other.ofDeclaration("harbour.berths.Missing")).isEmpty();
      assertThat(other.ofDeclaration("harbour.berths.Berth").isPresent())
          .isEqualTo(end >= SOURCE.indexOf("(@Id"));
    }
  }
}
