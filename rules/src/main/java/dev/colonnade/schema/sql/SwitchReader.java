package dev.colonnade.schema.sql;

import dev.colonnade.location.SourceLocation;
import dev.colonnade.predicate.Identifier;
import dev.colonnade.schema.change.SchemaChange.ConstraintKind;
import dev.colonnade.schema.change.SwitchConstraint;
import java.util.List;
import java.util.Optional;

/** Reads what switches constraints off and on, as Oracle has it. */
final class SwitchReader {
  private final StatementContext context;
  private final Identifier table;

  SwitchReader(StatementContext context, Identifier table) {
    this.context = context;
    this.table = table;
  }

  /** True for DISABLE or ENABLE of a constraint. */
  static boolean applies(TokenCursor cursor) {
    if (!cursor.looksAt("DISABLE") && !cursor.looksAt("ENABLE")) {
      return false;
    }
    TokenCursor behind = cursor.copy();
    behind.next();
    behind.acceptAny("VALIDATE", "NOVALIDATE");
    return isConstraint(behind);
  }

  /** True for the constraint that MODIFY speaks of. */
  static boolean isConstraint(TokenCursor cursor) {
    return cursor.looksAt("CONSTRAINT")
        || cursor.looksAt("PRIMARY", "KEY")
        || cursor.looksAt("UNIQUE", "(");
  }

  /** Reads DISABLE or ENABLE with the constraint behind it. */
  void read(TokenCursor cursor, SourceLocation location) {
    boolean on = cursor.next().is("ENABLE");
    cursor.acceptAny("VALIDATE", "NOVALIDATE");
    named(cursor, Optional.of(on), location);
  }

  /** Reads the constraint behind MODIFY, with its new state if there is one. */
  void modify(TokenCursor cursor, SourceLocation location) {
    named(cursor, Optional.empty(), location);
  }

  private void named(TokenCursor cursor, Optional<Boolean> state, SourceLocation location) {
    ConstraintKind kind = ConstraintKind.ANY;
    Optional<Identifier> name = Optional.empty();
    List<Identifier> columns = List.of();
    if (cursor.accept("PRIMARY", "KEY")) {
      kind = ConstraintKind.PRIMARY_KEY;
    } else if (cursor.accept("UNIQUE")) {
      kind = ConstraintKind.UNIQUE;
      columns = cursor.nameList();
    } else {
      cursor.expect("CONSTRAINT");
      name = Optional.of(cursor.name().name());
    }
    boolean enabled = mentions(cursor, "ENABLE");
    if (state.isPresent() || enabled || mentions(cursor, "DISABLE")) {
      boolean on = state.orElse(enabled);
      boolean cascade = mentions(cursor, "CASCADE");
      boolean keepsIndex = mentions(cursor, "KEEP");
      Optional<Identifier> index = new ConstraintReader(context, table).usingIndex(cursor);
      context.add(
          new SwitchConstraint(
              table, kind, name, columns, on, cascade, keepsIndex, index, location));
    }
    cursor.rest();
  }

  /** A constraint that is made switched off, where it is so. */
  static Optional<SwitchConstraint> madeOff(
      TokenCursor behind,
      Identifier table,
      ConstraintKind kind,
      Optional<Identifier> name,
      List<Identifier> columns,
      SourceLocation location) {
    return mentions(behind, "DISABLE")
        ? Optional.of(off(table, kind, name, columns, location))
        : Optional.empty();
  }

  static SwitchConstraint off(
      Identifier table,
      ConstraintKind kind,
      Optional<Identifier> name,
      List<Identifier> columns,
      SourceLocation location) {
    return new SwitchConstraint(
        table,
        kind,
        name,
        columns,
        /* on= */ false,
        /* cascade= */ false,
        /* keepsIndex= */ false,
        Optional.empty(),
        location);
  }

  private static boolean mentions(TokenCursor cursor, String word) {
    TokenCursor at = cursor.copy();
    while (!at.atEnd()) {
      if (at.looksAt("(")) {
        at.group();
      } else if (at.next().is(word)) {
        return true;
      }
    }
    return false;
  }
}
