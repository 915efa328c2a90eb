package dev.colonnade.schema.sql;

import dev.colonnade.dialect.SchemaRules;
import dev.colonnade.dialect.StatementRules;
import dev.colonnade.location.NotUnderstood;
import dev.colonnade.location.SourceLocation;
import dev.colonnade.predicate.Expression;
import dev.colonnade.predicate.Expression.OpaqueExpression;
import dev.colonnade.predicate.Predicate;
import dev.colonnade.predicate.Predicate.OpaquePredicate;
import dev.colonnade.schema.change.QueriedTable;
import dev.colonnade.schema.change.SchemaChange;
import dev.colonnade.sql.ExpressionReader;
import dev.colonnade.sql.SqlParser;
import dev.colonnade.sql.UnreadableSqlException;
import java.util.ArrayList;
import java.util.List;
import java.util.Set;
import java.util.function.IntFunction;

/** What the readers of single statements share: places, expressions, and where results go. */
final class StatementContext {
  private final SqlParser parser;
  private final SchemaRules rules;
  private final StatementRules statementRules;
  private final IntFunction<SourceLocation> places;
  private final List<SchemaChange> changes = new ArrayList<>();
  private final List<NotUnderstood> notUnderstood = new ArrayList<>();

  StatementContext(
      SqlParser parser,
      SchemaRules rules,
      StatementRules statementRules,
      IntFunction<SourceLocation> places) {
    this.parser = parser;
    this.rules = rules;
    this.statementRules = statementRules;
    this.places = places;
  }

  SchemaRules rules() {
    return rules;
  }

  StatementRules statementRules() {
    return statementRules;
  }

  SourceLocation at(TokenCursor cursor) {
    return places.apply(cursor.offset());
  }

  void add(SchemaChange change) {
    changes.add(change);
  }

  void note(SourceLocation location, String reason) {
    notUnderstood.add(new NotUnderstood(location, reason));
  }

  /** The value of an index key; opaque, with an entry, where its text does not parse. */
  Expression expression(String text, SourceLocation location) {
    try {
      return ExpressionReader.ofTable().expression(parser.expression(text));
    } catch (UnreadableSqlException e) {
      note(location, "index key " + text + ": " + e.getMessage());
      return new OpaqueExpression(text, Set.of());
    }
  }

  /** What a query selects; nothing where that is not understood. */
  List<QueriedTable.Selected> selected(String query) {
    return SelectedColumns.of(parser, query);
  }

  /** The predicate of an index; opaque, with an entry, where its text does not parse. */
  Predicate predicate(String text, SourceLocation location) {
    try {
      return ExpressionReader.ofTable().predicate(parser.expression(text));
    } catch (UnreadableSqlException e) {
      note(location, "index predicate " + text + ": " + e.getMessage());
      return new OpaquePredicate(text, Set.of(), e.getMessage());
    }
  }

  /** Takes the changes collected so far away; for those that belong inside another one. */
  List<SchemaChange> takeFrom(int first) {
    List<SchemaChange> tail = changes.subList(first, changes.size());
    List<SchemaChange> taken = List.copyOf(tail);
    tail.clear();
    return taken;
  }

  int size() {
    return changes.size();
  }

  DdlResult result() {
    return new DdlResult(changes, notUnderstood);
  }
}
