package dev.colonnade.report;

import com.fasterxml.jackson.databind.JsonNode;
import com.fasterxml.jackson.databind.node.ObjectNode;
import dev.colonnade.access.AccessEstimate;
import dev.colonnade.access.Candidate;
import dev.colonnade.access.QueryAccess;
import dev.colonnade.access.TableAccess;
import dev.colonnade.finding.PathText;
import dev.colonnade.location.NotUnderstood;
import dev.colonnade.location.SourceLocation;
import dev.colonnade.predicate.Expression;
import dev.colonnade.predicate.Identifier;
import dev.colonnade.query.Query;
import dev.colonnade.query.UnanalysedQuery;
import dev.colonnade.schema.Column;
import dev.colonnade.schema.ForeignKey;
import dev.colonnade.schema.Index;
import dev.colonnade.schema.KeyColumn;
import dev.colonnade.schema.Table;
import java.util.Collection;
import java.util.List;
import java.util.Optional;
import java.util.Set;

/** Writes {@code access-paths.json}: schema, coverage, and every index against every query. */
final class AccessPathsJson {
  /** Raised when a key changes its meaning or goes away; a new key does not raise it. */
  private static final int FORMAT_VERSION = 1;

  /** A query and each of its tables have lines of their own, a candidate is one line. */
  private static final int DEPTH = 3;

  private AccessPathsJson() {}

  static String write(Report report) {
    ObjectNode root = JsonText.object();
    root.put("formatVersion", FORMAT_VERSION);
    root.put("database", report.dialect().shortName());
    if (!report.dialect().version().toString().isEmpty()) {
      root.put("databaseVersion", report.dialect().version().toString());
    }
    root.set("coverage", coverage(report.coverage()));
    root.set("tables", JsonText.array(report.schema().tables(), AccessPathsJson::table));
    root.set("queries", JsonText.array(report.queries(), AccessPathsJson::query));
    return JsonText.write(root, DEPTH, Set.of("candidates", "branches"));
  }

  private static JsonNode coverage(Coverage coverage) {
    ObjectNode changes = JsonText.object();
    changes.put("total", coverage.changes());
    changes.put("applied", coverage.changesApplied());
    changes.set("notUnderstood", notUnderstood(coverage.changesNotUnderstood()));
    ObjectNode queries = JsonText.object();
    queries.put("total", coverage.queries());
    queries.put("analysed", coverage.queriesAnalysed());
    queries.set(
        "notAnalysed",
        JsonText.array(coverage.queriesNotAnalysed(), AccessPathsJson::unanalysedQuery));
    queries.put("withoutText", coverage.queriesWithoutText());
    ObjectNode node = JsonText.object();
    node.set("changes", changes);
    node.set("queries", queries);
    node.set("other", notUnderstood(coverage.otherNotUnderstood()));
    return node;
  }

  private static JsonNode notUnderstood(List<NotUnderstood> entries) {
    return JsonText.array(
        entries,
        entry -> {
          ObjectNode node = JsonText.object();
          node.set("location", inChangelog(entry.location()));
          node.put("reason", entry.reason());
          return node;
        });
  }

  private static JsonNode unanalysedQuery(UnanalysedQuery query) {
    ObjectNode node = JsonText.object();
    node.put("id", query.id());
    node.set("location", inFile(query.location()));
    node.put("reason", query.reason());
    return node;
  }

  private static ObjectNode inFile(SourceLocation location) {
    ObjectNode node = JsonText.object();
    node.put("file", location.file());
    node.put("line", location.line());
    return node;
  }

  private static JsonNode inChangelog(SourceLocation location) {
    return inFile(location).put("changeSet", location.changeSet().orElse(null));
  }

  private static JsonNode table(Table table) {
    ObjectNode node = JsonText.object();
    node.put("name", table.name().text());
    node.set("columns", JsonText.array(table.columns(), column -> column(table, column)));
    node.set("primaryKey", names(table.primaryKey()));
    node.set("foreignKeys", JsonText.array(table.foreignKeys(), AccessPathsJson::foreignKey));
    node.set("indexes", JsonText.array(table.indexes(), AccessPathsJson::index));
    return node;
  }

  private static JsonNode column(Table table, Column column) {
    ObjectNode node = JsonText.object();
    node.put("name", column.name().text());
    node.put("type", column.type().text());
    node.put("nullable", table.isNullable(column.name()));
    return node;
  }

  private static JsonNode foreignKey(ForeignKey key) {
    ObjectNode node = JsonText.object();
    node.put("name", key.name().map(Identifier::text).orElse(null));
    node.set("columns", names(key.columns()));
    node.put("referencedTable", key.referencedTable().text());
    node.set("referencedColumns", names(key.referencedColumns()));
    node.set("location", inChangelog(key.location()));
    return node;
  }

  private static JsonNode index(Index index) {
    ObjectNode node = JsonText.object();
    node.put("name", index.name().text());
    node.put("unique", index.unique());
    node.set("keyColumns", JsonText.array(index.keyColumns(), AccessPathsJson::keyColumn));
    node.set("includedColumns", names(index.includedColumns()));
    node.put("predicate", index.predicateText().orElse(null));
    node.put("origin", index.origin().word());
    node.set("location", inChangelog(index.location()));
    return node;
  }

  private static JsonNode keyColumn(KeyColumn part) {
    ObjectNode node = JsonText.object();
    Optional<Identifier> column = part.column();
    if (column.isPresent()) {
      node.put("column", column.get().text());
    } else {
      node.put("expression", part.value().render());
    }
    return node.put("descending", part.descending());
  }

  private static JsonNode query(QueryAccess access) {
    Query query = access.query();
    ObjectNode node = JsonText.object();
    node.put("id", query.id());
    node.set("location", inFile(query.location()));
    node.put("source", query.text().source().word());
    node.put("text", query.text().text());
    node.put("sql", query.text().sql());
    node.set("tables", JsonText.array(access.tables(), use -> tableAccess(access, use)));
    return node;
  }

  private static JsonNode tableAccess(QueryAccess query, TableAccess access) {
    ObjectNode node = JsonText.object();
    node.put("table", access.table().name().text());
    node.put("alias", access.use().alias());
    node.put("block", access.block().number());
    node.put("joinPosition", access.joinPosition());
    node.set("fedBy", JsonText.texts(new PathText(query, access).feeders(), alias -> alias));
    node.set("executions", Numbers.json(access.executions()));
    candidateInto(node, access.chosen(), Optional.empty());
    if (!access.branches().isEmpty()) {
      node.set("branches", JsonText.array(access.branches(), AccessPathsJson::candidate));
    }
    node.set("candidates", JsonText.array(access.candidates(), AccessPathsJson::candidate));
    return node;
  }

  private static JsonNode candidate(Candidate candidate) {
    ObjectNode node = JsonText.object();
    candidateInto(node, candidate, candidate.index());
    return node;
  }

  /**
   * Writes what is said of a candidate.
   *
   * @param leading the index when its name stands before the path; the chosen candidate of a table
   *     has it behind
   */
  private static void candidateInto(ObjectNode node, Candidate candidate, Optional<Index> leading) {
    String name = candidate.index().map(index -> index.name().text()).orElse(null);
    if (leading.isPresent()) {
      node.put("index", name);
      node.put("path", candidate.path().word());
    } else {
      node.put("path", candidate.path().word());
      node.put("index", name);
    }
    node.set("matchingColumns", values(candidate.matching()));
    node.set("screeningColumns", values(candidate.screening()));
    node.put("covering", candidate.covering());
    node.set("missingColumns", names(candidate.missing()));
    node.put("orderServed", candidate.orderServed().orElse(null));
    node.put("groupingServed", candidate.groupingServed().orElse(null));
    node.put("remark", candidate.remark());
    node.set("estimate", estimate(candidate.estimate()));
  }

  private static JsonNode estimate(AccessEstimate estimate) {
    ObjectNode node = JsonText.object();
    node.set("entries", Numbers.json(estimate.entries()));
    node.set("indexPages", Numbers.json(estimate.indexPages()));
    node.set("tablePages", Numbers.json(estimate.tablePages()));
    node.set("rows", Numbers.json(estimate.rows()));
    node.put("confidence", estimate.confidence().word());
    return node;
  }

  private static JsonNode names(Collection<Identifier> identifiers) {
    return JsonText.texts(identifiers, Identifier::text);
  }

  private static JsonNode values(List<Expression> expressions) {
    return JsonText.texts(expressions, Expression::render);
  }
}
