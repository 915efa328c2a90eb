package dev.colonnade.report;

import dev.colonnade.access.AccessEstimate;
import dev.colonnade.access.AccessPath;
import dev.colonnade.access.Candidate;
import dev.colonnade.access.Demand;
import dev.colonnade.access.QueryAccess;
import dev.colonnade.access.TableAccess;
import dev.colonnade.dialect.DatabaseVersion;
import dev.colonnade.dialect.Dialect;
import dev.colonnade.finding.Evidence;
import dev.colonnade.finding.Finding;
import dev.colonnade.finding.Fingerprint;
import dev.colonnade.finding.Severity;
import dev.colonnade.finding.Suggestion;
import dev.colonnade.location.NotUnderstood;
import dev.colonnade.location.SourceLocation;
import dev.colonnade.predicate.Expression.ColumnRef;
import dev.colonnade.predicate.Identifier;
import dev.colonnade.query.BlockRole;
import dev.colonnade.query.FromItem.TableUse;
import dev.colonnade.query.Query;
import dev.colonnade.query.QueryBlock;
import dev.colonnade.query.QuerySource;
import dev.colonnade.query.QueryText;
import dev.colonnade.query.StatementKind;
import dev.colonnade.query.UnanalysedQuery;
import dev.colonnade.schema.Column;
import dev.colonnade.schema.ColumnType;
import dev.colonnade.schema.ForeignKey;
import dev.colonnade.schema.Index;
import dev.colonnade.schema.IndexOrigin;
import dev.colonnade.schema.KeyColumn;
import dev.colonnade.schema.Schema;
import dev.colonnade.schema.Table;
import dev.colonnade.schema.TypeFamily;
import dev.colonnade.statistics.Confidence;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.Set;

/** A small result of every kind, made by hand: a harbour that lets berths. */
final class ReportFixture {
  static final SourceLocation INDEX_PLACE =
      SourceLocation.of("src/main/resources/db/harbour.xml", 24).inChangeSet("2::quay");
  static final SourceLocation QUERY_PLACE =
      new SourceLocation("src/main/java/harbour/Bookings.java", 31, 5, Optional.empty());

  static final Index PRIMARY =
      Index.of("booking_pk", "booking", true, List.of(KeyColumn.ascending("id")), INDEX_PLACE)
          .withOrigin(IndexOrigin.PRIMARY_KEY);
  static final Index BY_BERTH =
      Index.of(
              "booking_berth_ix",
              "booking",
              false,
              List.of(KeyColumn.ascending("berth_id"), KeyColumn.descending("arrives")),
              INDEX_PLACE)
          .withIncluded(List.of(Identifier.of("vessel_id")));

  static final Table BOOKING =
      new Table(
          Identifier.of("booking"),
          Optional.empty(),
          List.of(
              Column.of("id", ColumnType.of("bigint", TypeFamily.BIG_INTEGER), false),
              Column.of("berth_id", ColumnType.of("bigint", TypeFamily.BIG_INTEGER), false),
              Column.of("vessel_id", ColumnType.of("bigint", TypeFamily.BIG_INTEGER), true),
              Column.of("arrives", ColumnType.of("timestamp", TypeFamily.TIMESTAMP), true)),
          List.of(Identifier.of("id")),
          List.of(
              new ForeignKey(
                  Optional.of(Identifier.of("booking_berth_fk")),
                  List.of(Identifier.of("berth_id")),
                  Identifier.of("berth"),
                  List.of(Identifier.of("id")),
                  INDEX_PLACE)),
          List.of(BY_BERTH, PRIMARY),
          INDEX_PLACE);

  private ReportFixture() {}

  static Dialect dialect() {
    return new Dialect("postgresql", "PostgreSQL", DatabaseVersion.NEWEST, null, null, null, null);
  }

  static Candidate candidate(Optional<Index> index, AccessPath path, double entries) {
    boolean scan = path == AccessPath.FULL_TABLE_SCAN;
    return new Candidate(
        index,
        path,
        scan ? List.of() : List.of(ColumnRef.self("berth_id")),
        List.of(),
        List.of(),
        false,
        scan ? List.of() : List.of(Identifier.of("id")),
        Optional.of(!scan),
        Optional.empty(),
        scan ? "leading column id is unbound" : "",
        new AccessEstimate(entries, 1, 12.345, 12.25, Confidence.DERIVED),
        40);
  }

  static QueryAccess query(String id) {
    TableUse use = TableUse.of(1, "booking", "b");
    QueryBlock block =
        new QueryBlock(
            1,
            Optional.empty(),
            BlockRole.MAIN,
            List.of(use),
            List.of(),
            List.of(),
            List.of(),
            List.of(),
            false,
            List.of(),
            Optional.empty(),
            Set.of());
    String sql = "select * from booking b where berth_id = ? order by arrives desc";
    Query query =
        new Query(
            new QueryText(id, QUERY_PLACE, QuerySource.ANNOTATION, sql, sql),
            StatementKind.SELECT,
            List.of(block));
    Candidate chosen = candidate(Optional.of(BY_BERTH), AccessPath.RANGE_SCAN, 12.25);
    TableAccess access =
        new TableAccess(
            block,
            use,
            BOOKING,
            1,
            List.of(),
            new Demand(
                List.of(), List.of(), Set.of(), Set.of(), false, List.of(), List.of(), false,
                Set.of(), 1),
            chosen,
            List.of(chosen, candidate(Optional.of(PRIMARY), AccessPath.FULL_TABLE_SCAN, 0)),
            List.of(),
            1);
    return new QueryAccess(query, List.of(access));
  }

  static Finding error() {
    return new Finding.Builder(
            "redundant-index",
            Severity.ERROR,
            INDEX_PLACE,
            Optional.empty(),
            Identifier.of("booking"),
            new Fingerprint("0123456789abcdef0123456789abcdef"))
        .line(Evidence.Label.INDEX, "booking_berth_ix(berth_id, arrives desc) leads with it")
        .line(Evidence.Label.FIX, "drop index berth_ix")
        .line(Evidence.Label.CAUTION, "look at the use of the index in production first")
        .suggest(new Suggestion.DropIndex(BY_BERTH))
        .build("berth_ix is a leading part of booking_berth_ix");
  }

  static Finding warning(int number) {
    return new Finding.Builder(
            "missing-index",
            Severity.ERROR,
            QUERY_PLACE,
            Optional.of("harbour.Bookings.of" + number),
            Identifier.of("booking"),
            new Fingerprint(String.format(java.util.Locale.ROOT, "%032x", number)))
        .line(Evidence.Label.QUERY, "vessel_id = ?")
        .line(Evidence.Label.PATH, "full-table-scan booking, 120000 rows (assumed)")
        .assumed(true)
        .build("no index has a leading column that this query binds");
  }

  static List<RuleDescription> rules() {
    return List.of(
        new RuleDescription(
            "redundant-index",
            "an index is a leading part of another",
            "## The problem\n\nEvery write keeps both.\n\n## The fix\n\nDrop the shorter.",
            Severity.ERROR),
        new RuleDescription(
            "missing-index",
            "no index has a leading column that this query binds",
            "word ".repeat(400),
            Severity.WARNING));
  }

  static Coverage gaps() {
    return new Coverage(
        3,
        2,
        List.of(new NotUnderstood(INDEX_PLACE, "change type moorLoad is not known")),
        2,
        1,
        List.of(
            new UnanalysedQuery(
                "queries/tide.sql:7",
                SourceLocation.of("queries/tide.sql", 7),
                "SQL does not parse: `select * frm tide`")),
        4,
        List.of(
            new NotUnderstood(
                SourceLocation.of("harbour-1.0.jar!/db/a b#ü.xml", 3),
                "not <read> | in Süderhafen")));
  }

  static Report report() {
    return report(List.of(warning(1), error()));
  }

  static Report report(List<Finding> findings) {
    return new Report(
        dialect(),
        new Schema(List.of(BOOKING), List.of()),
        List.of(query("harbour.Bookings.of1")),
        findings,
        rules(),
        gaps());
  }

  /** Nothing found, nothing to say. */
  static Report empty() {
    return new Report(
        dialect(),
        Schema.EMPTY,
        List.of(),
        List.of(),
        List.of(),
        new Coverage(0, 0, List.of(), 0, 0, List.of(), 0, List.of()));
  }

  /** The same report with every list that its maker may fill in any order turned round. */
  static Report reversed() {
    List<Finding> findings = new ArrayList<>(report().findings());
    java.util.Collections.reverse(findings);
    List<RuleDescription> rules = new ArrayList<>(rules());
    java.util.Collections.reverse(rules);
    return new Report(dialect(), report().schema(), report().queries(), findings, rules, gaps());
  }
}
