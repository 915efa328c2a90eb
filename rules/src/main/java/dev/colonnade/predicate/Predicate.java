package dev.colonnade.predicate;

import dev.colonnade.predicate.Expression.Call;
import dev.colonnade.predicate.Expression.ColumnRef;
import dev.colonnade.predicate.Expression.Literal;
import dev.colonnade.predicate.Expression.LiteralKind;
import java.util.Collections;
import java.util.LinkedHashSet;
import java.util.List;
import java.util.Optional;
import java.util.Set;
import java.util.stream.Collectors;
import java.util.stream.Stream;

/** A condition on rows. */
public sealed interface Predicate {

  /** Every column that the condition depends on, in order of appearance. */
  Set<ColumnRef> columns();

  /** A short rendering for messages. */
  String render();

  /**
   * Dispatches on the kind of condition; a new kind breaks the build wherever it must be handled.
   */
  <R> R accept(Visitor<R> visitor);

  /** One method a kind of condition. */
  interface Visitor<R> {
    /** {@link Comparison}. */
    R comparison(Comparison comparison);

    /** {@link InList}. */
    R inList(InList inList);

    /** {@link InSubquery}. */
    R inSubquery(InSubquery inSubquery);

    /** {@link RowComparison}. */
    R rowComparison(RowComparison rowComparison);

    /** {@link RowInList}. */
    R rowInList(RowInList rowInList);

    /** {@link NullTest}. */
    R nullTest(NullTest nullTest);

    /** {@link Like}. */
    R like(Like like);

    /** {@link TruthTest}. */
    R truthTest(TruthTest truthTest);

    /** {@link Exists}. */
    R exists(Exists exists);

    /** {@link And}. */
    R and(And and);

    /** {@link Or}. */
    R or(Or or);

    /** {@link Not}. */
    R not(Not not);

    /** {@link OpaquePredicate}. */
    R opaque(OpaquePredicate opaque);
  }

  private static Set<ColumnRef> columnsOf(Stream<Expression> expressions) {
    Set<ColumnRef> columns = new LinkedHashSet<>();
    expressions.forEach(expression -> columns.addAll(expression.columns()));
    return columns;
  }

  private static String list(List<Expression> expressions) {
    return expressions.stream().map(Expression::render).collect(Collectors.joining(", ", "(", ")"));
  }

  /** One value compared with another. */
  record Comparison(Expression left, ComparisonOperator operator, Expression right)
      implements Predicate {
    @Override
    public Set<ColumnRef> columns() {
      return columnsOf(Stream.of(left, right));
    }

    @Override
    public <R> R accept(Visitor<R> visitor) {
      return visitor.comparison(this);
    }

    @Override
    public String render() {
      return left.render() + " " + operator.sign() + " " + right.render();
    }

    /** The same condition with its operands on the other sides. */
    public Comparison flipped() {
      return new Comparison(/* left= */ right, operator.flipped(), /* right= */ left);
    }
  }

  /**
   * A value looked for in a list.
   *
   * @param openEnded true when a parameter of the list may stand for several values
   */
  record InList(Expression operand, List<Expression> values, boolean openEnded)
      implements Predicate {
    /** Copies the list. */
    public InList {
      values = List.copyOf(values);
    }

    @Override
    public Set<ColumnRef> columns() {
      return columnsOf(Stream.concat(Stream.of(operand), values.stream()));
    }

    @Override
    public <R> R accept(Visitor<R> visitor) {
      return visitor.inList(this);
    }

    @Override
    public String render() {
      return operand.render() + " in " + list(values);
    }
  }

  /** One or more values looked for in the rows of a subquery. */
  record InSubquery(List<Expression> operands, int block, Set<ColumnRef> correlated)
      implements Predicate {
    /** Copies the collections. */
    public InSubquery {
      operands = List.copyOf(operands);
      correlated = Collections.unmodifiableSet(new LinkedHashSet<>(correlated));
    }

    @Override
    public Set<ColumnRef> columns() {
      Set<ColumnRef> columns = columnsOf(operands.stream());
      columns.addAll(correlated);
      return columns;
    }

    @Override
    public <R> R accept(Visitor<R> visitor) {
      return visitor.inSubquery(this);
    }

    @Override
    public String render() {
      String left = operands.size() == 1 ? operands.get(0).render() : list(operands);
      return left + " in (subquery)";
    }
  }

  /** Two rows compared: {@code (a, b) > (?, ?)}. Equality of rows arrives as single equalities. */
  record RowComparison(List<Expression> left, ComparisonOperator operator, List<Expression> right)
      implements Predicate {
    /** Copies the lists and checks that they are of one length. */
    public RowComparison {
      left = List.copyOf(left);
      right = List.copyOf(right);
      if (left.size() != right.size()) {
        throw new IllegalArgumentException("rows of different length");
      }
    }

    @Override
    public Set<ColumnRef> columns() {
      return columnsOf(Stream.concat(left.stream(), right.stream()));
    }

    @Override
    public <R> R accept(Visitor<R> visitor) {
      return visitor.rowComparison(this);
    }

    @Override
    public String render() {
      return list(left) + " " + operator.sign() + " " + list(right);
    }
  }

  /** A row looked for in a list of rows: {@code (a, b) in ((1, 2), (3, 4))}. */
  record RowInList(List<Expression> operands, List<List<Expression>> rows) implements Predicate {
    /** Copies the lists. */
    public RowInList {
      operands = List.copyOf(operands);
      rows = rows.stream().map(List::copyOf).toList();
    }

    @Override
    public Set<ColumnRef> columns() {
      return columnsOf(Stream.concat(operands.stream(), rows.stream().flatMap(List::stream)));
    }

    @Override
    public <R> R accept(Visitor<R> visitor) {
      return visitor.rowInList(this);
    }

    @Override
    public String render() {
      return list(operands)
          + " in "
          + rows.stream().map(Predicate::list).collect(Collectors.joining(", ", "(", ")"));
    }
  }

  /** IS NULL, or IS NOT NULL when negated. */
  record NullTest(Expression operand, boolean negated) implements Predicate {
    @Override
    public Set<ColumnRef> columns() {
      return columnsOf(Stream.of(operand));
    }

    @Override
    public <R> R accept(Visitor<R> visitor) {
      return visitor.nullTest(this);
    }

    @Override
    public String render() {
      return operand.render() + (negated ? " is not null" : " is null");
    }
  }

  /**
   * A pattern match. NOT LIKE arrives as {@link Not} of this.
   *
   * @param wildcards LIKE's ({@code % _}) or GLOB's ({@code * ?})
   * @param caseInsensitive true for ILIKE
   * @param escape the escape character, if one was named
   */
  record Like(
      Expression operand,
      Expression pattern,
      Wildcards wildcards,
      boolean caseInsensitive,
      Optional<Character> escape)
      implements Predicate {
    /** The two families of wildcards. */
    public enum Wildcards {
      /** {@code %} and {@code _}. */
      LIKE,
      /** {@code *}, {@code ?} and {@code [}. */
      GLOB
    }

    /**
     * The fixed head of a literal pattern: empty string when it starts with a wildcard, nothing
     * when the pattern is not a text literal. A pattern put together from parts has the empty head
     * when its first part is a literal that starts with a wildcard ({@code '%' || :name}), and is
     * unknown otherwise.
     */
    public Optional<String> literalPrefix() {
      if (!(pattern instanceof Literal literal) || literal.kind() != LiteralKind.TEXT) {
        return firstPart(pattern)
            .flatMap(
                part -> new Like(operand, part, wildcards, caseInsensitive, escape).literalPrefix())
            .filter(String::isEmpty);
      }
      String special = wildcards == Wildcards.LIKE ? "%_" : "*?[";
      StringBuilder head = new StringBuilder();
      for (int i = 0; i < literal.text().length(); i++) {
        char c = literal.text().charAt(i);
        if (escape.isPresent() && c == escape.get() && i + 1 < literal.text().length()) {
          i++;
          head.append(literal.text().charAt(i));
        } else if (special.indexOf(c) >= 0) {
          break;
        } else {
          head.append(c);
        }
      }
      return Optional.of(head.toString());
    }

    private static Optional<Expression> firstPart(Expression pattern) {
      return pattern instanceof Call call
              && (call.name().equals("||") || call.name().equals("concat"))
              && !call.arguments().isEmpty()
          ? Optional.of(call.arguments().get(0))
          : Optional.empty();
    }

    @Override
    public Set<ColumnRef> columns() {
      return columnsOf(Stream.of(operand, pattern));
    }

    @Override
    public <R> R accept(Visitor<R> visitor) {
      return visitor.like(this);
    }

    @Override
    public String render() {
      String word = wildcards == Wildcards.GLOB ? "glob" : caseInsensitive ? "ilike" : "like";
      return operand.render() + " " + word + " " + pattern.render();
    }
  }

  /**
   * A truth value tested: {@code flag}, {@code flag is not true}.
   *
   * @param expected the value asked for
   * @param matchesNull true when rows with NULL qualify too ({@code is not true} is expected=false,
   *     matchesNull=true)
   */
  record TruthTest(Expression operand, boolean expected, boolean matchesNull) implements Predicate {
    @Override
    public Set<ColumnRef> columns() {
      return columnsOf(Stream.of(operand));
    }

    @Override
    public <R> R accept(Visitor<R> visitor) {
      return visitor.truthTest(this);
    }

    @Override
    public String render() {
      if (matchesNull) {
        return operand.render() + (expected ? " is not false" : " is not true");
      }
      return expected ? operand.render() : "not " + operand.render();
    }
  }

  /** EXISTS of a subquery. */
  record Exists(int block, Set<ColumnRef> correlated) implements Predicate {
    /** Copies the set. */
    public Exists {
      correlated = Collections.unmodifiableSet(new LinkedHashSet<>(correlated));
    }

    @Override
    public Set<ColumnRef> columns() {
      return correlated;
    }

    @Override
    public <R> R accept(Visitor<R> visitor) {
      return visitor.exists(this);
    }

    @Override
    public String render() {
      return "exists (subquery)";
    }
  }

  /** All of the parts hold. */
  record And(List<Predicate> parts) implements Predicate {
    /** Copies the list. */
    public And {
      parts = List.copyOf(parts);
    }

    @Override
    public Set<ColumnRef> columns() {
      return columnsOfParts(parts);
    }

    @Override
    public <R> R accept(Visitor<R> visitor) {
      return visitor.and(this);
    }

    @Override
    public String render() {
      return parts.stream().map(Predicate::render).collect(Collectors.joining(" and ", "(", ")"));
    }
  }

  /** At least one of the parts holds. */
  record Or(List<Predicate> parts) implements Predicate {
    /** Copies the list. */
    public Or {
      parts = List.copyOf(parts);
    }

    @Override
    public Set<ColumnRef> columns() {
      return columnsOfParts(parts);
    }

    @Override
    public <R> R accept(Visitor<R> visitor) {
      return visitor.or(this);
    }

    @Override
    public String render() {
      return parts.stream().map(Predicate::render).collect(Collectors.joining(" or ", "(", ")"));
    }
  }

  /** The part does not hold. */
  record Not(Predicate part) implements Predicate {
    @Override
    public Set<ColumnRef> columns() {
      return part.columns();
    }

    @Override
    public <R> R accept(Visitor<R> visitor) {
      return visitor.not(this);
    }

    @Override
    public String render() {
      return "not (" + part.render() + ")";
    }
  }

  /**
   * A condition that was recognised as one but whose structure was not: it filters rows, and no
   * index is credited with it.
   *
   * @param text as written
   * @param read every column it may read
   * @param reason why its structure is unknown
   */
  record OpaquePredicate(String text, Set<ColumnRef> read, String reason) implements Predicate {
    /** Copies the set. */
    public OpaquePredicate {
      read = Collections.unmodifiableSet(new LinkedHashSet<>(read));
    }

    @Override
    public Set<ColumnRef> columns() {
      return read;
    }

    @Override
    public <R> R accept(Visitor<R> visitor) {
      return visitor.opaque(this);
    }

    @Override
    public String render() {
      return text;
    }
  }

  private static Set<ColumnRef> columnsOfParts(List<Predicate> parts) {
    Set<ColumnRef> columns = new LinkedHashSet<>();
    parts.forEach(part -> columns.addAll(part.columns()));
    return columns;
  }
}
