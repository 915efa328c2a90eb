package dev.colonnade.query.source;

import static org.assertj.core.api.Assertions.assertThat;

import dev.colonnade.classfile.ClassFiles;
import dev.colonnade.mapping.NamingStrategy;
import dev.colonnade.mapping.source.MappingReader;
import dev.colonnade.mapping.source.MappingReading;
import dev.colonnade.query.QuerySource;
import dev.colonnade.schema.Schema;
import jakarta.persistence.Entity;
import java.io.ByteArrayOutputStream;
import java.io.File;
import java.io.IOException;
import java.io.InputStream;
import java.io.PrintStream;
import java.net.URISyntaxException;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import java.util.stream.Collectors;
import kotlin.Unit;
import kotlinx.coroutines.flow.Flow;
import org.jetbrains.kotlin.cli.common.ExitCode;
import org.jetbrains.kotlin.cli.jvm.K2JVMCompiler;
import org.junit.jupiter.api.BeforeAll;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.springframework.data.jpa.repository.JpaRepository;
import org.springframework.data.repository.CrudRepository;

/**
 * A service in Kotlin, compiled by Kotlin's own compiler: every query is read, at its line in the
 * source, with the columns that the properties stand for. What is expected was held against the
 * source by hand: Kotlin's rules for annotations' targets and inline classes are those of its
 * documentation.
 */
final class KotlinServiceTest {
  private static final String SOURCE = "src/main/kotlin/Pilotage.kt";

  @TempDir private static Path base;

  private static MappingReading mapping;
  private static FoundQueries found;

  @BeforeAll
  static void compile() throws IOException, URISyntaxException {
    Path source = base.resolve(SOURCE);
    Files.createDirectories(source.getParent());
    try (InputStream in = KotlinServiceTest.class.getResourceAsStream("Pilotage.kt")) {
      Files.copy(in, source);
    }
    Path classes = base.resolve("target/classes");
    List<String> libraries = new ArrayList<>();
    for (Class<?> type :
        List.of(Entity.class, JpaRepository.class, CrudRepository.class, Unit.class, Flow.class)) {
      libraries.add(
          Path.of(type.getProtectionDomain().getCodeSource().getLocation().toURI()).toString());
    }
    ByteArrayOutputStream messages = new ByteArrayOutputStream();
    ExitCode code =
        new K2JVMCompiler()
            .exec(
                new PrintStream(messages, true, StandardCharsets.UTF_8),
                "-no-stdlib",
                "-no-reflect",
                "-jvm-target",
                "17",
                "-cp",
                String.join(File.pathSeparator, libraries),
                "-d",
                classes.toString(),
                source.toString());
    assertThat(code).as(messages.toString(StandardCharsets.UTF_8)).isEqualTo(ExitCode.OK);
    ClassFiles read = ClassFiles.read(base, classes);
    mapping =
        new MappingReader(read, new Schema(List.of(), List.of())).read(NamingStrategy.SNAKE_CASE);
    found =
        new RepositoryScanner(base, classes, List.of(source.getParent()), List.of())
            .scan(read, mapping.mapping(), "postgresql");
  }

  @Test
  void every_query_is_read() {
    assertThat(found.unanalysed()).isEmpty();
    assertThat(found.unreadable()).isEmpty();
  }

  @Test
  void each_query_is_found_at_its_line_with_its_columns() {
    String pilot =
        "select e.id, e.\"version\", e.recorded_at, e.full_name, e.grade, e.is_active,"
            + " e.callsign, e.mentor from pilots e";
    String text = pilot.replace("e.", "p.").replace(" e", " p");
    assertThat(
            found.queries().stream()
                .filter(
                    query ->
                        query.source() == QuerySource.ANNOTATION
                            || query.source() == QuerySource.METHOD_NAME)
                .map(
                    query ->
                        query.id().replace("harbour.pilotage.", "")
                            + " "
                            + query.location().toString().replace(SOURCE, "")
                            + " "
                            + query
                                .sql()
                                .replace(pilot, "PILOT")
                                .replace(text, "PILOT")
                                .replaceAll("^select e.pilot_id, e.number, .*? from trip", "TRIP"))
                .sorted()
                .collect(Collectors.joining("\n")))
        .isEqualTo(
            """
            Pilot#masters :57 PILOT where p.grade = 'MASTER'
            PilotFlow.before :149 PILOT where p.recorded_at < :at limit :pageSize offset \
            :pageOffset
            PilotFlow.findByGradeOrderByName :145 PILOT where e.grade = ?1 order by e.full_name
            PilotFlow.findByName :147 select e.full_name, e.is_active from pilots e where \
            e.full_name = ?1
            Pilots.findAll :136 select e.id, e."version", e.recorded_at, e.full_name, e.grade, \
            e.is_active, e.callsign, e.mentor, e_mentor.id, e_mentor."version", \
            e_mentor.recorded_at, e_mentor.full_name, e_mentor.grade, e_mentor.is_active, \
            e_mentor.callsign, e_mentor.mentor from pilots e left join pilots e_mentor on \
            e_mentor.id = e.mentor
            Pilots.findByCallsign :101 PILOT where e.callsign = ?1
            Pilots.findByGrade :109 select e.grade, e.full_name from pilots e where e.grade = ?1
            Pilots.findByGradeIn :113 PILOT where e.grade in (?1)
            Pilots.findByGradeNot :111 select e.full_name, e.is_active from pilots e where \
            e.grade <> ?1
            Pilots.findByLanguagesContaining :107 PILOT where exists (select 1 from \
            pilot_languages languages where languages.pilot_id = e.id and languages.languages = \
            ?1) limit :pageSize offset :pageOffset
            Pilots.findByLanguagesContaining#count :107 select count(e.id) from pilots e where \
            exists (select 1 from pilot_languages languages where languages.pilot_id = e.id and \
            languages.languages = ?1)
            Pilots.findByMentorName :103 PILOT left join pilots j1 on j1.id = e.mentor where \
            j1.full_name = ?1
            Pilots.findByNameAndIsActiveTrue :99 PILOT where e.full_name = ?1 and e.is_active = \
            true
            Pilots.findByRecordedAtAfter :95 PILOT where e.recorded_at > ?1
            Pilots.findByTripsReachFrom :105 PILOT left join trip j1 on j1.pilot_ref = e.id \
            where j1.from_buoy = ?1
            Pilots.graded :115 PILOT where p.is_active = true and p.grade = :grade
            Pilots.masters :140 PILOT where p.grade = :grade
            Pilots.named :132 select count(*) from pilots where full_name = :name
            Pilots.passing :118 PILOT join trip t on t.pilot_ref = p.id where t.from_buoy = \
            :buoy and p.is_active = true
            Pilots.retire :129 update pilots set is_active = false where pilots.mentor = ?1
            Trips.existsByPilotAndReachUntilIsNull :156 select e.pilot_id, e.number from trip e \
            where e.pilot_ref = ?1 and e.until is null limit 1
            Trips.findByKeyPilotIdOrderByKeyNumberDesc :154 TRIP e left join night_trip \
            e_night_trip on e_night_trip.pilot_id = e.pilot_id and e_night_trip.number = \
            e.number where e.pilot_id = ?1 order by e.number desc
            """
                .stripTrailing());
  }
}
