package dev.colonnade.classfile;

import java.util.Objects;
import java.util.Set;
import org.objectweb.asm.Type;
import org.objectweb.asm.tree.analysis.BasicValue;

/** A value of which more is known than its type. */
final class ConstantText extends BasicValue {
  /** What is known. */
  enum Kind {
    /** Its text: one of several where branches meet. */
    TEXT,
    /** A number, written out. */
    NUMBER,
    /** A class: its binary name. */
    CLASS,
    /** A builder of texts: what it holds so far. */
    BUILDER,
    /** A builder of statements: what it was told so far, as {@link ClauseTexts} writes it. */
    CLAUSES,
    /** An array, whose elements are kept apart. */
    ARRAY,
    /** A lambda. */
    LAMBDA,
    /** A parameter of the method as it came. */
    PARAMETER,
    /** What a chosen call gave back. */
    RESULT
  }

  private final Kind kind;
  private final Set<String> texts;
  private final Object identity;

  /**
   * A value.
   *
   * @param identity the instruction that made a builder, a lambda or a result, the number of a
   *     parameter; else null
   */
  ConstantText(Type type, Kind kind, Set<String> texts, Object identity) {
    super(type);
    this.kind = kind;
    this.texts = texts;
    this.identity = identity;
  }

  Kind kind() {
    return kind;
  }

  /** True where calls on it change it. */
  boolean isBuilder() {
    return kind == Kind.BUILDER || kind == Kind.CLAUSES;
  }

  /** The same builder with other texts; unknown where there are none. */
  BasicValue holding(Set<String> after) {
    return after.isEmpty()
        ? BasicValue.REFERENCE_VALUE
        : new ConstantText(getType(), kind, after, identity);
  }

  Set<String> texts() {
    return texts;
  }

  Object identity() {
    return identity;
  }

  /** Its only text; null where there are several or none. */
  String single() {
    return texts.size() == 1 ? texts.iterator().next() : null;
  }

  @Override
  public boolean equals(Object other) {
    return other instanceof ConstantText that
        && kind == that.kind
        && texts.equals(that.texts)
        && Objects.equals(identity, that.identity)
        && Objects.equals(getType(), that.getType());
  }

  @Override
  public int hashCode() {
    return Objects.hash(kind, texts, identity);
  }

  @Override
  public String toString() {
    return kind + " " + texts;
  }
}
