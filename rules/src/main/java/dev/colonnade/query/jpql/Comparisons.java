package dev.colonnade.query.jpql;

import dev.colonnade.mapping.Entity;
import dev.colonnade.mapping.EnumConstants;
import dev.colonnade.mapping.Inheritance;
import dev.colonnade.mapping.MappedColumn;
import dev.colonnade.mapping.ValueType;
import dev.colonnade.mapping.ValueType.Storage;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.regex.Pattern;

/**
 * Compares values: by all columns of their identifiers, by the form that columns are written in.
 */
final class Comparisons {
  private static final Pattern CLASS_MEMBER = Pattern.compile("(.*\\.)?\\p{Lu}\\w*([.$]\\w+)+");

  private final Statement statement;
  private int placeholders;

  Comparisons(Statement statement) {
    this.statement = statement;
  }

  /** {@code left operator right}; several columns are compared one by one for equality. */
  String compare(Value left, String operator, Value right) {
    if (left instanceof Value.TypeOf || right instanceof Value.TypeOf) {
      return compareTypes(left, operator, right);
    }
    List<String> leftSql = columns(left, right);
    List<String> rightSql = columns(right, left);
    if (leftSql.size() != rightSql.size()) {
      throw new UntranslatableException(
          leftSql.size() + " columns are compared with " + rightSql.size(), 0, 0);
    }
    if (leftSql.size() == 1) {
      return leftSql.get(0) + " " + operator + " " + rightSql.get(0);
    }
    List<String> pairs = new ArrayList<>();
    for (int i = 0; i < leftSql.size(); i++) {
      pairs.add(leftSql.get(i) + " " + operator + " " + rightSql.get(i));
    }
    return switch (operator) {
      case "=", "is not distinct from" -> "(" + String.join(" and ", pairs) + ")";
      case "<>", "is distinct from" -> "(" + String.join(" or ", pairs) + ")";
      default ->
          statement.words.comparesRows()
              ? tuple(leftSql) + " " + operator + " " + tuple(rightSql)
              : rows(leftSql, operator, rightSql);
    };
  }

  /**
   * Which of two rows of values comes first, where the database does not compare rows: the first
   * values bound the rest (as Hibernate ORM 7.4 writes it).
   */
  private static String rows(List<String> left, String operator, List<String> right) {
    if (left.size() == 1) {
      return left.get(0) + " " + operator + " " + right.get(0);
    }
    String outer = operator.substring(0, 1) + "=";
    String inverse =
        switch (operator) {
          case ">" -> "<=";
          case ">=" -> "<";
          case "<" -> ">=";
          default -> ">";
        };
    String rest = rows(left.subList(1, left.size()), inverse, right.subList(1, right.size()));
    return "("
        + left.get(0)
        + " "
        + outer
        + " "
        + right.get(0)
        + " and not ("
        + left.get(0)
        + " = "
        + right.get(0)
        + " and "
        + rest
        + "))";
  }

  static String tuple(List<String> columns) {
    return columns.size() == 1 ? columns.get(0) : "(" + String.join(", ", columns) + ")";
  }

  /** The columns of a value that stands beside another. */
  List<String> columns(Value value, Value other) {
    if (value instanceof Value.Columns columns) {
      return columns.sql();
    }
    if (value instanceof Value.Reference reference) {
      return reference.key();
    }
    if (value instanceof Value.Parameter parameter) {
      return parameters(parameter, width(other));
    }
    if (value instanceof Value.Truth truth) {
      return List.of(truth(truth.value(), type(other)));
    }
    if (value instanceof Value.Constant constant) {
      return List.of(constant(constant.name(), type(other)));
    }
    if (value instanceof Value.Tuple tuple) {
      List<String> result = new ArrayList<>();
      for (int i = 0; i < tuple.values().size(); i++) {
        Value counterpart =
            other instanceof Value.Tuple others && i < others.values().size()
                ? others.values().get(i)
                : Value.Columns.of("");
        result.addAll(columns(tuple.values().get(i), counterpart));
      }
      return result;
    }
    if (value instanceof Value.TypeOf of) {
      return List.of(typeColumn(of.use()));
    }
    Entity entity = ((Value.TypeName) value).entity();
    return List.of(new EntityTables(statement).discriminatorValue(entity));
  }

  private static int width(Value value) {
    if (value instanceof Value.Columns columns) {
      return columns.sql().size();
    }
    if (value instanceof Value.Reference reference) {
      return reference.key().size();
    }
    return value instanceof Value.Tuple tuple ? tuple.values().size() : 1;
  }

  private static Optional<ValueType> type(Value value) {
    return value instanceof Value.Columns columns ? columns.type() : Optional.empty();
  }

  /** Each column of a wide value gets a parameter of its own: they do not hold the same. */
  private static List<String> parameters(Value.Parameter parameter, int width) {
    if (width == 1) {
      return List.of(parameter.sql());
    }
    String name = ":" + parameter.sql().substring(1);
    List<String> result = new ArrayList<>();
    for (int i = 1; i <= width; i++) {
      result.add(
          (name.equals(":") ? ":key" : name.matches(":\\d+") ? ":p" + name.substring(1) : name)
              + "_"
              + i);
    }
    return result;
  }

  /** A truth value as the column holds it; a parameter where a converter decides. */
  String truth(boolean value, Optional<ValueType> type) {
    String plain = statement.words.truth(value);
    return type.map(it -> it.truth(value, plain).orElseGet(this::placeholder)).orElse(plain);
  }

  /** A constant as the column holds it. What a class's constant holds is not known. */
  String constant(String name, Optional<ValueType> type) {
    String simple = name.substring(Math.max(name.lastIndexOf('.'), name.lastIndexOf('$')) + 1);
    Optional<EnumConstants> constants =
        type.filter(ValueType::isEnum).flatMap(it -> statement.mapping.enumOf(it.javaType()));
    int ordinal = constants.map(it -> it.names().indexOf(simple)).orElse(-1);
    if (ordinal >= 0) {
      return type.get().storage() == Storage.ENUM_NAME
          ? "'" + simple + "'"
          : String.valueOf(ordinal);
    }
    if (CLASS_MEMBER.matcher(name).matches()
        || type.filter(it -> it.storage() == Storage.CONVERTED).isPresent()) {
      return placeholder();
    }
    throw new UntranslatableException(name + " is neither an alias nor an attribute", 0, 0);
  }

  private String placeholder() {
    return ":constant_" + statement.names.alias("c") + ++placeholders;
  }

  private String compareTypes(Value left, String operator, Value right) {
    Value.TypeOf of = (Value.TypeOf) (left instanceof Value.TypeOf ? left : right);
    Value other = left instanceof Value.TypeOf ? right : left;
    if (other instanceof Value.TypeName name && isByTables(of.use().entity)) {
      String test = isExactly(of.use(), name.entity());
      return switch (operator) {
        case "=" -> test;
        case "<>" -> "not (" + test + ")";
        default -> throw new UntranslatableException("classes are only equal or not", 0, 0);
      };
    }
    if (other instanceof Value.TypeName name && of.use().isUnion()) {
      int number = new EntityTables(statement).number(name.entity());
      return of.use().alias + "." + EntityTables.CLASS_NUMBER + " " + operator + " " + number;
    }
    String column = typeColumn(of.use());
    return column + " " + operator + " " + tuple(columns(other, Value.Columns.of(column)));
  }

  /**
   * Leaves out the tables of classes that a comparison of classes rules out.
   *
   * @param among whether the class is one of these, or none of them
   */
  void narrow(QueryScope scope, Value subject, boolean among, List<Value> classes) {
    boolean named = classes.stream().allMatch(Value.TypeName.class::isInstance);
    if (named && subject instanceof Value.TypeOf of && of.use().scope.equals(scope)) {
      of.use()
          .keep(
              statement.mapping.concreteTypes(of.use().entity).stream()
                  .filter(it -> classes.contains(new Value.TypeName(it)) == among)
                  .toList());
    }
  }

  private static boolean isByTables(Entity entity) {
    return entity.inheritance() == Inheritance.JOINED && entity.discriminator().isEmpty();
  }

  /** The column that tells the class of a row. */
  private String typeColumn(EntityUse use) {
    if (isByTables(use.entity)) {
      return classByTables(use);
    }
    if (use.entity.inheritance() == Inheritance.TABLE_PER_CLASS) {
      return statement.mapping.subtypes(use.entity).isEmpty()
          ? "0"
          : use.alias + "." + EntityTables.CLASS_NUMBER;
    }
    return use.entity
        .discriminator()
        .map(use::discriminator)
        .orElseThrow(
            () ->
                new UntranslatableException(
                    "no column of " + use.entity.name() + " tells the class", 0, 0));
  }

  /** Under joined tables without discriminator: a row in the class's table and in no subclass's. */
  private String isExactly(EntityUse use, Entity type) {
    List<String> conditions = new ArrayList<>();
    conditions.add(present(use, type) + " is not null");
    for (Entity subtype : statement.mapping.subtypes(type)) {
      conditions.add(present(use, subtype) + " is null");
    }
    return "(" + String.join(" and ", conditions) + ")";
  }

  /** The number of a row's class, told by the tables that it has rows in, subclasses first. */
  private String classByTables(EntityUse use) {
    List<Entity> types = new ArrayList<>(statement.mapping.concreteTypes(use.entity));
    StringBuilder sql = new StringBuilder("case");
    for (int i = types.size() - 1; i >= 0; i--) {
      sql.append(" when ")
          .append(present(use, types.get(i)))
          .append(" is not null then ")
          .append(i);
    }
    return sql + " end";
  }

  private static String present(EntityUse use, Entity type) {
    MappedColumn id = type.idColumns().get(0);
    return use.column(new MappedColumn(type.table(), id.name()));
  }
}
