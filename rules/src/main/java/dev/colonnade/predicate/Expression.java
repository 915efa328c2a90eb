package dev.colonnade.predicate;

import java.util.Collections;
import java.util.LinkedHashSet;
import java.util.List;
import java.util.Set;
import java.util.function.UnaryOperator;
import java.util.stream.Collectors;

/** A value that a query computes: a column, a constant, or something made of these. */
public sealed interface Expression {

  /** Every column that the value depends on, in order of appearance. */
  Set<ColumnRef> columns();

  /** The expression with each column reference replaced; used to compare across queries. */
  Expression map(UnaryOperator<ColumnRef> replacement);

  /** A short rendering for messages: columns by name, parameters as {@code ?}. */
  String render();

  /** True when no column takes part, so that the value is known before the scan starts. */
  default boolean isConstant() {
    return columns().isEmpty() && !(this instanceof OpaqueExpression);
  }

  /**
   * Dispatches on the kind of expression; a new kind breaks the build wherever it must be handled.
   */
  <R> R accept(Visitor<R> visitor);

  /** One method a kind of expression. */
  interface Visitor<R> {
    /** A column. */
    R column(ColumnRef column);

    /** A literal. */
    R literal(Literal literal);

    /** A parameter. */
    R parameter(Parameter parameter);

    /** A function, operator or cast. */
    R call(Call call);

    /** A subquery with one value. */
    R subquery(ScalarSubquery subquery);

    /** Anything whose structure does not matter. */
    R opaque(OpaqueExpression opaque);
  }

  /**
   * One column of one use of a table.
   *
   * @param use number of the table's use in the query, unique across all blocks and counted from 1;
   *     {@link #SELF} inside the definition of an index
   */
  record ColumnRef(int use, Identifier column) implements Expression, Comparable<ColumnRef> {
    /** The use that stands for the indexed table itself. */
    public static final int SELF = 0;

    /** A column of the indexed table itself. */
    public static ColumnRef self(String column) {
      return new ColumnRef(SELF, Identifier.of(column));
    }

    @Override
    public Set<ColumnRef> columns() {
      return Set.of(this);
    }

    @Override
    public Expression map(UnaryOperator<ColumnRef> replacement) {
      return replacement.apply(this);
    }

    @Override
    public <R> R accept(Visitor<R> visitor) {
      return visitor.column(this);
    }

    @Override
    public String render() {
      return column.text();
    }

    @Override
    public int compareTo(ColumnRef other) {
      int byUse = Integer.compare(use, other.use);
      return byUse != 0 ? byUse : column.compareTo(other.column);
    }
  }

  /**
   * A literal.
   *
   * @param text canonical text without quotes ({@code 5}, {@code abc}, {@code true}); empty for
   *     NULL
   */
  record Literal(String text, LiteralKind kind) implements Expression {
    @Override
    public Set<ColumnRef> columns() {
      return Set.of();
    }

    @Override
    public Expression map(UnaryOperator<ColumnRef> replacement) {
      return this;
    }

    @Override
    public <R> R accept(Visitor<R> visitor) {
      return visitor.literal(this);
    }

    @Override
    public String render() {
      return switch (kind) {
        case TEXT -> "'" + text.replace("'", "''") + "'";
        case NULL -> "null";
        case NUMBER, BOOLEAN, DATE, TIME, TIMESTAMP, OTHER -> text;
      };
    }
  }

  /** What a literal is. */
  enum LiteralKind {
    /** A number. */
    NUMBER,
    /** A character string. */
    TEXT,
    /** TRUE or FALSE. */
    BOOLEAN,
    /** A DATE literal. */
    DATE,
    /** A TIME literal. */
    TIME,
    /** A TIMESTAMP literal. */
    TIMESTAMP,
    /** NULL. */
    NULL,
    /** Anything else: binary, interval. */
    OTHER
  }

  /**
   * A value supplied when the query runs.
   *
   * @param text the placeholder as written in the query ({@code :vessel}, {@code ?1}, {@code
   *     #{id}})
   */
  record Parameter(String text) implements Expression {
    @Override
    public Set<ColumnRef> columns() {
      return Set.of();
    }

    @Override
    public Expression map(UnaryOperator<ColumnRef> replacement) {
      return this;
    }

    @Override
    public <R> R accept(Visitor<R> visitor) {
      return visitor.parameter(this);
    }

    @Override
    public String render() {
      return "?";
    }
  }

  /**
   * A function, operator or cast applied to values. Two calls are the same expression exactly when
   * name and arguments are equal; no algebra is applied ({@code a + 1} is not {@code 1 + a}).
   *
   * @param name lower case: function name, operator sign ({@code +}, {@code ||}), or {@code cast
   *     <type>}
   * @param deterministic false for values that differ from row to row or call to call ({@code
   *     random()}); {@code now()} and {@code current_date} are fixed for a statement and so true
   */
  record Call(String name, List<Expression> arguments, boolean deterministic)
      implements Expression {
    /** Copies the list. */
    public Call {
      arguments = List.copyOf(arguments);
    }

    private boolean isBinary() {
      return !name.isEmpty() && !Character.isLetter(name.charAt(0)) && arguments.size() == 2;
    }

    /** An operand of an operator, in parentheses where another operator stands in it. */
    private String operand(int position) {
      Expression operand = arguments.get(position);
      boolean chain = position == 0 && operand instanceof Call call && call.name().equals(name);
      return operand instanceof Call call && call.isBinary() && !chain
          ? "(" + operand.render() + ")"
          : operand.render();
    }

    @Override
    public Set<ColumnRef> columns() {
      Set<ColumnRef> columns = new LinkedHashSet<>();
      arguments.forEach(argument -> columns.addAll(argument.columns()));
      return columns;
    }

    @Override
    public Expression map(UnaryOperator<ColumnRef> replacement) {
      return new Call(
          name,
          arguments.stream().map(argument -> argument.map(replacement)).toList(),
          deterministic);
    }

    @Override
    public <R> R accept(Visitor<R> visitor) {
      return visitor.call(this);
    }

    @Override
    public String render() {
      if (isBinary()) {
        return operand(0) + " " + name + " " + operand(1);
      }
      if (name.startsWith("cast ")) {
        return "cast(" + arguments.get(0).render() + " as " + name.substring(5) + ")";
      }
      return name
          + arguments.stream().map(Expression::render).collect(Collectors.joining(", ", "(", ")"));
    }
  }

  /**
   * A subquery that yields one value.
   *
   * @param block number of the subquery's block
   * @param correlated columns of enclosing blocks that the subquery reads
   */
  record ScalarSubquery(int block, Set<ColumnRef> correlated) implements Expression {
    /** Copies the set. */
    public ScalarSubquery {
      correlated = Collections.unmodifiableSet(new LinkedHashSet<>(correlated));
    }

    @Override
    public Set<ColumnRef> columns() {
      return correlated;
    }

    @Override
    public Expression map(UnaryOperator<ColumnRef> replacement) {
      return this;
    }

    @Override
    public <R> R accept(Visitor<R> visitor) {
      return visitor.subquery(this);
    }

    @Override
    public String render() {
      return "(subquery)";
    }
  }

  /**
   * A value whose structure does not matter to any index: CASE, window functions, vendor syntax.
   *
   * @param text as written
   * @param read every column it may read
   */
  record OpaqueExpression(String text, Set<ColumnRef> read) implements Expression {
    /** Copies the set. */
    public OpaqueExpression {
      read = Collections.unmodifiableSet(new LinkedHashSet<>(read));
    }

    @Override
    public Set<ColumnRef> columns() {
      return read;
    }

    @Override
    public Expression map(UnaryOperator<ColumnRef> replacement) {
      return new OpaqueExpression(
          text,
          read.stream().map(replacement).collect(Collectors.toCollection(LinkedHashSet::new)));
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
}
