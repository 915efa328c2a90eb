package dev.colonnade.schema.change;

import dev.colonnade.predicate.Identifier;
import dev.colonnade.schema.KeyColumn;
import dev.colonnade.schema.change.ConstraintChange.AddPrimaryKey;
import dev.colonnade.schema.change.ConstraintChange.AddUniqueConstraint;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;

/** Merges keys on the same columns inside one statement, as PostgreSQL does. */
final class RepeatedKeys {
  private RepeatedKeys() {}

  /** The primary key, then everything else in order; the first key of several equal ones stays. */
  static List<SchemaChange> merged(List<SchemaChange> parts) {
    List<SchemaChange> result = new ArrayList<>();
    parts.stream().filter(AddPrimaryKey.class::isInstance).forEach(result::add);
    for (SchemaChange part : parts) {
      if (part instanceof AddUniqueConstraint unique) {
        int same = indexOfSame(result, unique);
        if (same < 0) {
          result.add(unique);
        } else if (unique.name().isPresent()) {
          result.set(same, named(result.get(same), unique.name()));
        }
      } else if (!(part instanceof AddPrimaryKey)) {
        result.add(part);
      }
    }
    return result;
  }

  private static int indexOfSame(List<SchemaChange> parts, AddUniqueConstraint wanted) {
    for (int i = 0; i < parts.size(); i++) {
      boolean same =
          parts.get(i) instanceof AddPrimaryKey key
              ? isSame(key.keyColumns(), key.includedColumns(), wanted)
              : parts.get(i) instanceof AddUniqueConstraint unique
                  && isSame(unique.keyColumns(), unique.includedColumns(), wanted);
      if (same) {
        return i;
      }
    }
    return -1;
  }

  private static boolean isSame(
      List<KeyColumn> key, List<Identifier> included, AddUniqueConstraint wanted) {
    return key.equals(wanted.keyColumns()) && included.equals(wanted.includedColumns());
  }

  /** The key under the given name, unless it has one. */
  private static SchemaChange named(SchemaChange key, Optional<Identifier> name) {
    if (key instanceof AddPrimaryKey primary && primary.name().isEmpty()) {
      return new AddPrimaryKey(
          primary.table(),
          name,
          primary.keyColumns(),
          primary.includedColumns(),
          primary.usingIndex(),
          primary.clustered(),
          primary.location());
    }
    if (key instanceof AddUniqueConstraint unique && unique.name().isEmpty()) {
      return new AddUniqueConstraint(
          unique.table(),
          name,
          unique.keyColumns(),
          unique.includedColumns(),
          unique.usingIndex(),
          unique.clustered(),
          unique.location());
    }
    return key;
  }
}
