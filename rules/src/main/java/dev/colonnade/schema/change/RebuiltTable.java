package dev.colonnade.schema.change;

import dev.colonnade.dialect.SchemaRules;
import dev.colonnade.predicate.Identifier;
import dev.colonnade.schema.Column;
import dev.colonnade.schema.ColumnType;
import dev.colonnade.schema.Index;
import dev.colonnade.schema.IndexOrigin;
import dev.colonnade.schema.TypeFamily;
import java.util.ArrayList;
import java.util.LinkedHashSet;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.Optional;
import java.util.OptionalInt;
import java.util.Set;

/**
 * A table that the database builds anew: first the indexes that somebody created, then the
 * constraints in the order of their making. A unique constraint or foreign key takes an index that
 * serves it, if there is one by then, and what it had before goes.
 */
final class RebuiltTable {
  private static final Map<String, String> SYNONYMS =
      Map.ofEntries(
          Map.entry("character varying", "varchar"),
          Map.entry("char varying", "varchar"),
          Map.entry("nvarchar", "varchar"),
          Map.entry("nvarchar2", "varchar"),
          Map.entry("varchar2", "varchar"),
          Map.entry("longvarchar", "varchar"),
          Map.entry("varchar_casesensitive", "varchar"),
          Map.entry("character", "char"),
          Map.entry("nchar", "char"),
          Map.entry("integer", "int"),
          Map.entry("int4", "int"),
          Map.entry("mediumint", "int"),
          Map.entry("int8", "bigint"),
          Map.entry("int2", "smallint"),
          Map.entry("bool", "boolean"),
          Map.entry("bit", "boolean"),
          Map.entry("float", "double"),
          Map.entry("float8", "double"),
          Map.entry("datetime", "timestamp"),
          Map.entry("binary large object", "blob"),
          Map.entry("longblob", "blob"));

  private final FoldState state;
  private final IndexNames names;

  RebuiltTable(FoldState state, SchemaRules rules) {
    this.state = state;
    this.names = new IndexNames(rules.naming().value());
  }

  /** True where only the longest value changes, which no table is built anew for. */
  static boolean isWider(Column before, Column after) {
    ColumnType from = before.type();
    ColumnType to = after.type();
    boolean sameKind =
        from.family() == to.family()
            && firstWord(from).equals(firstWord(to))
            && from.scale().equals(to.scale());
    boolean fixed = firstWord(to).equals("char") || to.family() == TypeFamily.BINARY;
    boolean longer =
        length(from).equals(length(to))
            || (!fixed
                && length(from).isPresent()
                && length(from).getAsInt() < length(to).orElse(Integer.MAX_VALUE));
    return sameKind && longer && (!before.nullable() || after.nullable());
  }

  /** One name for all names of a type, as H2 has them (observed). */
  private static String firstWord(ColumnType type) {
    String text = type.text().toLowerCase(Locale.ROOT).replaceAll("\\(.*?\\)", "").strip();
    String word = SYNONYMS.getOrDefault(text, text.split("\\W", 2)[0]);
    return text.contains("with time zone") ? word + " with time zone" : word;
  }

  /** A timestamp has six digits behind the second, where nothing else is said. */
  private static OptionalInt length(ColumnType type) {
    String word = firstWord(type);
    if (word.equals("double")) {
      return OptionalInt.empty();
    }
    return word.startsWith("timestamp") && type.length().isEmpty()
        ? OptionalInt.of(6)
        : type.length();
  }

  void rebuild(TableState table) {
    List<Index> before = table.indexes();
    Set<Identifier> owned = new LinkedHashSet<>();
    table.constraints().stream()
        .filter(Constraint::ownsIndex)
        .forEach(constraint -> constraint.index().ifPresent(owned::add));
    before.forEach(index -> table.removeIndex(index.name()));
    List<Constraint> constraints = new ArrayList<>(table.constraints());
    constraints.stream()
        .filter(constraint -> isRowKey(table, constraint))
        .findFirst()
        .ifPresent(
            key -> {
              constraints.remove(key);
              place(table, key, before);
            });
    before.stream().filter(index -> !owned.contains(index.name())).forEach(table::putIndex);
    constraints.stream()
        .filter(constraint -> constraint.index().isPresent())
        .forEach(constraint -> place(table, constraint, before));
    referencesAreMadeAnew(table);
  }

  /** Foreign keys of other tables to this one are made again, after the others of their table. */
  private void referencesAreMadeAnew(TableState table) {
    for (TableState other : state.tables.values()) {
      if (!other.equals(table)) {
        other.constraints().stream()
            .filter(constraint -> constraint.refersTo(table.id()))
            .forEach(other::madeAnew);
      }
    }
  }

  /** A primary key of one column of an integer type is made before all else. */
  private static boolean isRowKey(TableState table, Constraint constraint) {
    return constraint.isPrimaryKey()
        && constraint.columns().size() == 1
        && table
            .column(constraint.columns().get(0))
            .map(Column::type)
            .filter(type -> type.family().isInteger())
            .isPresent();
  }

  private void place(TableState table, Constraint constraint, List<Index> before) {
    Optional<Index> serving =
        constraint.isPrimaryKey() ? Optional.empty() : serving(table, constraint);
    if (serving.isPresent()) {
      take(table, constraint, serving.get().name(), /* owns= */ false);
      return;
    }
    Optional<Index> old =
        before.stream()
            .filter(index -> constraint.index().filter(index.name()::equals).isPresent())
            .findFirst();
    if (old.isEmpty()) {
      return;
    }
    Index index = IndexEdits.renamed(old.get(), newName(table, constraint));
    table.putIndex(index.withUnique(!constraint.isForeignKey()).withOrigin(origin(constraint)));
    take(table, constraint, index.name(), /* owns= */ true);
  }

  private static Optional<Index> serving(TableState table, Constraint constraint) {
    return table.indexes().stream()
        .filter(index -> constraint.isForeignKey() || index.unique())
        .filter(index -> index.keyColumns().size() == constraint.columns().size())
        .filter(index -> IndexEdits.leadsWithAnyOrder(index, constraint.columns()))
        .findFirst();
  }

  private static void take(
      TableState table, Constraint constraint, Identifier index, boolean owns) {
    table.replaceConstraint(constraint, constraint.withIndex(Optional.of(index), owns));
  }

  private Identifier newName(TableState table, Constraint constraint) {
    return constraint.isForeignKey()
        ? names.forForeignKey(
            table.name(),
            constraint.name(),
            constraint.named(),
            constraint.columns(),
            n -> state.hasIndex(table, n))
        : names.forKey(
            table.name(),
            constraint.name(),
            constraint.named(),
            constraint.isPrimaryKey(),
            table.indexes().size(),
            n -> state.hasIndex(table, n));
  }

  private static IndexOrigin origin(Constraint constraint) {
    return switch (constraint.kind()) {
      case PRIMARY_KEY -> IndexOrigin.PRIMARY_KEY;
      case FOREIGN_KEY -> IndexOrigin.FOREIGN_KEY;
      case UNIQUE, ANY -> IndexOrigin.UNIQUE_CONSTRAINT;
    };
  }
}
