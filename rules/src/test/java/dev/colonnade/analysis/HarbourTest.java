package dev.colonnade.analysis;

import static org.assertj.core.api.Assertions.assertThat;

import dev.colonnade.access.AccessPath;
import dev.colonnade.access.Candidate;
import dev.colonnade.access.QueryAccess;
import dev.colonnade.access.TableAccess;
import dev.colonnade.finding.Finding;
import dev.colonnade.predicate.Expression;
import dev.colonnade.predicate.Identifier;
import dev.colonnade.report.Report;
import dev.colonnade.rule.RuleMetadata;
import dev.colonnade.rules.RuleRegistry;
import dev.colonnade.schema.Index;
import dev.colonnade.schema.IndexOrigin;
import dev.colonnade.schema.Table;
import java.io.IOException;
import java.io.StringWriter;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.List;
import java.util.Optional;
import java.util.Set;
import java.util.TreeSet;
import java.util.stream.Collectors;
import java.util.stream.Stream;
import javax.tools.JavaCompiler;
import javax.tools.StandardJavaFileManager;
import javax.tools.ToolProvider;
import org.junit.jupiter.api.BeforeAll;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

/** The demo service from its files to its findings. */
final class HarbourTest {
  private static final Path HARBOUR = Path.of("../it/harbour");

  @TempDir private static Path classes;
  private static Report report;

  @BeforeAll
  static void analyse() throws IOException, AnalysisException {
    compile(javaFiles(HARBOUR.resolve("src/main/java")), classes);
    report =
        Analysis.run(
                AnalysisInput.builder(HARBOUR, "postgresql")
                    .changelogs(List.of(AnalysisInput.Changelog.of("db/changelog/harbour.xml")))
                    .changelogSearchRoots(List.of(Path.of("src/main/resources")))
                    .queryFiles(
                        List.of(
                            Path.of("src/main/resources/queries/day-sheet.sql"),
                            Path.of("src/main/resources/queries/month-end.sql")))
                    .classesDirectory(classes)
                    .sourceDirectories(List.of(Path.of("src/main/java")))
                    .statisticsFile(Optional.of(Path.of("colonnade/statistics.yaml")))
                    .build())
            .report();
  }

  @Test
  void every_change_and_every_query_is_understood() {
    assertThat(report.coverage().changesNotUnderstood()).isEmpty();
    assertThat(report.coverage().otherNotUnderstood()).isEmpty();
    assertThat(report.coverage().queriesNotAnalysed()).isEmpty();
    assertThat(report.coverage().queriesAnalysed()).isEqualTo(report.queries().size());
  }

  /**
   * The indexes that Liquibase 4.33.0 made of this changelog in PostgreSQL 18.6, as {@code
   * pg_indexes} listed them.
   */
  @Test
  void schema_has_the_indexes_that_the_database_has() {
    assertThat(
            report.schema().tables().stream()
                .flatMap(table -> table.indexes().stream())
                .map(
                    index ->
                        (index.unique() ? "unique " : "") + index.table() + " " + index.render()))
        .containsExactlyInAnyOrder(
            "unique berth pk_berth(id)",
            "unique berth uq_berth_code(code)",
            "booking ix_booking_arrival_status(arrival, status)",
            "booking ix_booking_berth(berth_id)",
            "booking ix_booking_berth_arrival(berth_id, arrival)",
            "booking ix_booking_berth_departure(berth_id, departure desc) include (reference)",
            "booking ix_booking_ledger(vessel_id, berth_id, pilot_id, status, arrival, departure,"
                + " cargo, note)",
            "booking ix_booking_vessel(vessel_id)",
            "booking ix_fk_booking_pilot(pilot_id)",
            "booking ix_fk_booking_vessel(vessel_id)",
            "unique booking pk_booking(id)",
            "unique booking uq_booking_reference(reference)",
            "harbour_fee ix_harbour_fee_amount_berth(amount, berth_id)",
            "harbour_fee ix_harbour_fee_berth_amount(berth_id, amount)",
            "unique harbour_fee pk_harbour_fee(id)",
            "invoice ix_invoice_booking_open(booking_id) where status = 'OPEN'",
            "invoice ix_invoice_status_due(status, due_on)",
            "invoice ix_invoice_total(total desc, due_on)",
            "unique invoice pk_invoice(id)",
            "unique invoice uq_invoice_number(invoice_number)",
            "mooring ix_fk_mooring_booking(booking_id)",
            "mooring ix_mooring_berth_times(berth_id, cast_off_at, made_fast_at)",
            "unique mooring pk_mooring(id)",
            "unique pilot pk_pilot(id)",
            "unique pilot uq_pilot_licence(licence)",
            "unique tide pk_tide(station, measured_at)",
            "vessel ix_vessel_name(name)",
            "vessel ix_vessel_owner(owner)",
            "unique vessel pk_vessel(id)",
            "unique vessel uq_vessel_imo_number(imo_number)");
  }

  @Test
  void every_rule_has_something_to_say() {
    Set<String> fired =
        report.findings().stream()
            .map(Finding::ruleId)
            .collect(Collectors.toCollection(TreeSet::new));

    assertThat(fired)
        .containsExactlyElementsOf(
            RuleRegistry.metadata().stream().map(RuleMetadata::id).sorted().toList());
  }

  @Test
  void every_access_path_is_somebodys() {
    assertThat(
            report.queries().stream()
                .flatMap(query -> query.tables().stream())
                .map(access -> access.chosen().path())
                .collect(Collectors.toSet()))
        .containsExactlyInAnyOrder(AccessPath.values());
    assertThat(path("BookingRepository.withReference"))
        .isEqualTo("unique-lookup uq_booking_reference");
    assertThat(path("HarbourFeeRepository.earnedBy"))
        .isEqualTo("index-only-range-scan ix_harbour_fee_berth_amount");
    assertThat(path("BookingRepository.plan")).isEqualTo("range-scan ix_booking_berth_arrival");
    assertThat(path("TideRepository.at")).isEqualTo("skip-scan pk_tide");
    assertThat(path("HarbourFeeRepository.earnedByEach")).startsWith("full-index-scan ");
    // The table has two pages: reading it whole costs no more, and the key stays the way.
    assertThat(path("Berth#load")).isEqualTo("unique-lookup pk_berth");
    assertThat(path("BookingRepository.arrivingOn")).isEqualTo("full-table-scan");
  }

  /** A filter on one column and a sum over another: the order of the two decides. */
  @Test
  void index_serves_the_sum_of_a_berth_in_one_order_only() {
    TableAccess access = only("HarbourFeeRepository.earnedBy");

    Candidate filterFirst = candidate(access, "ix_harbour_fee_berth_amount");
    Candidate sumFirst = candidate(access, "ix_harbour_fee_amount_berth");
    assertThat(filterFirst.matching()).extracting(Expression::render).containsExactly("berth_id");
    assertThat(sumFirst.matching()).isEmpty();
    assertThat(sumFirst.screening()).extracting(Expression::render).containsExactly("berth_id");
    assertThat(filterFirst.covering()).isTrue();
    assertThat(sumFirst.covering()).isTrue();
    // 3,600,000 rows over 220 berths, as the statistics file says.
    assertThat(filterFirst.estimate().entries()).isBetween(16_000.0, 17_000.0);
    assertThat(sumFirst.estimate().entries()).isEqualTo(3_600_000);
  }

  @Test
  void constraints_own_their_indexes() {
    Table booking = report.schema().table(Identifier.of("booking")).orElseThrow();

    assertThat(booking.indexes().stream().filter(it -> it.origin() != IndexOrigin.CREATE_INDEX))
        .extracting(Index::origin)
        .containsExactlyInAnyOrder(IndexOrigin.PRIMARY_KEY, IndexOrigin.UNIQUE_CONSTRAINT);
    assertThat(booking.foreignKeys()).hasSize(3);
  }

  private static String shortId(String id) {
    return id.replace("dev.colonnade.harbour.", "");
  }

  private static String path(String id) {
    Candidate chosen = only(id).chosen();
    return (chosen.path().word() + " " + chosen.index().map(it -> it.name().text()).orElse(""))
        .strip();
  }

  private static TableAccess only(String id) {
    QueryAccess query =
        report.queries().stream()
            .filter(it -> shortId(it.query().id()).equals(id))
            .findFirst()
            .orElseThrow();
    assertThat(query.tables()).hasSize(1);
    return query.tables().get(0);
  }

  private static Candidate candidate(TableAccess access, String index) {
    return access.candidates().stream()
        .filter(it -> it.index().orElseThrow().name().text().equals(index))
        .findFirst()
        .orElseThrow();
  }

  private static List<Path> javaFiles(Path directory) throws IOException {
    try (Stream<Path> files = Files.walk(directory)) {
      return files.filter(file -> file.toString().endsWith(".java")).sorted().toList();
    }
  }

  private static void compile(List<Path> sources, Path output) throws IOException {
    JavaCompiler compiler = ToolProvider.getSystemJavaCompiler();
    StringWriter messages = new StringWriter();
    try (StandardJavaFileManager manager =
        compiler.getStandardFileManager(null, null, StandardCharsets.UTF_8)) {
      boolean compiled =
          compiler
              .getTask(
                  messages,
                  manager,
                  null,
                  List.of("-proc:none", "--release", "17", "-d", output.toString()),
                  null,
                  manager.getJavaFileObjectsFromPaths(sources))
              .call();
      assertThat(compiled).as(messages.toString()).isTrue();
    }
  }
}
