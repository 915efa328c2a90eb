package dev.colonnade.query.jpql;

import org.antlr.v4.runtime.BaseErrorListener;
import org.antlr.v4.runtime.CharStreams;
import org.antlr.v4.runtime.CommonTokenStream;
import org.antlr.v4.runtime.RecognitionException;
import org.antlr.v4.runtime.Recognizer;
import org.antlr.v4.runtime.atn.PredictionMode;
import org.hibernate.grammars.hql.HqlLexer;
import org.hibernate.grammars.hql.HqlParser;

/** Reads a text by Hibernate's grammar of HQL, which takes in JPQL. */
final class HqlSyntax {
  private HqlSyntax() {}

  /** The tree of one statement. */
  static HqlParser.StatementContext parse(String text) {
    HqlParser parser = parser(text);
    parser.getInterpreter().setPredictionMode(PredictionMode.SLL);
    try {
      return parser.statement();
    } catch (UntranslatableException e) {
      // The quicker way of looking ahead can fail where the full one does not.
      return parser(text).statement();
    }
  }

  private static HqlParser parser(String text) {
    HqlLexer lexer = new HqlLexer(CharStreams.fromString(text));
    HqlParser parser = new HqlParser(new CommonTokenStream(lexer));
    Complaints complaints = new Complaints();
    lexer.removeErrorListeners();
    lexer.addErrorListener(complaints);
    parser.removeErrorListeners();
    parser.addErrorListener(complaints);
    return parser;
  }

  private static final class Complaints extends BaseErrorListener {
    @Override
    public void syntaxError(
        Recognizer<?, ?> recognizer,
        Object offendingSymbol,
        int line,
        int charPositionInLine,
        String message,
        RecognitionException e) {
      String shortened = message.replaceAll(", expecting one of the following tokens: .*", "");
      throw new UntranslatableException(
          "the text is not JPQL: "
              + (shortened.length() > 160 ? shortened.substring(0, 160) : shortened),
          line,
          charPositionInLine + 1);
    }
  }
}
