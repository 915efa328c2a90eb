package dev.colonnade.sql;

import dev.colonnade.predicate.Expression;
import dev.colonnade.predicate.Expression.Literal;
import dev.colonnade.predicate.Predicate;
import dev.colonnade.predicate.Predicate.Like;
import dev.colonnade.predicate.Predicate.Like.Wildcards;
import dev.colonnade.predicate.Predicate.Not;
import java.util.Optional;
import net.sf.jsqlparser.expression.operators.relational.LikeExpression;

/** Reads LIKE and its relatives. */
final class LikeReader {
  /**
   * The keyword that stands in for GLOB, which JSqlParser does not know; {@link SqlParser} puts it
   * there. None of the supported databases has a keyword of that name.
   */
  static final LikeExpression.KeyWord GLOB = LikeExpression.KeyWord.MATCH_ANY;

  private LikeReader() {}

  /** The pattern match, or nothing for the pattern languages of which no index knows a prefix. */
  static Optional<Predicate> read(LikeExpression like, ExpressionReader reader) {
    boolean glob = like.getLikeKeyWord() == GLOB;
    boolean caseInsensitive = like.getLikeKeyWord() == LikeExpression.KeyWord.ILIKE;
    boolean plain = like.getLikeKeyWord() == LikeExpression.KeyWord.LIKE;
    if (like.isUseBinary() || !(glob || caseInsensitive || plain)) {
      return Optional.empty();
    }
    Optional<Character> escape = Optional.empty();
    if (like.getEscape() != null) {
      Expression written = reader.expression(like.getEscape());
      if (!(written instanceof Literal literal) || literal.text().length() > 1) {
        return Optional.empty();
      }
      escape = literal.text().chars().mapToObj(c -> (char) c).findFirst();
    }
    Predicate read =
        new Like(
            reader.expression(like.getLeftExpression()),
            reader.expression(like.getRightExpression()),
            glob ? Wildcards.GLOB : Wildcards.LIKE,
            caseInsensitive,
            escape);
    return Optional.of(like.isNot() ? new Not(read) : read);
  }
}
