package dev.colonnade.schema.liquibase;

import liquibase.Scope;
import liquibase.change.ChangeFactory;
import liquibase.parser.ChangeLogParserFactory;

/**
 * Registers our parsers with Liquibase, once for the class loader. Outside a reading of ours they
 * support no file, so that Liquibase's own stay in charge.
 */
final class Parsers {
  /** Above Liquibase's own parsers and below none of ours. */
  static final int PRIORITY = 1000;

  private static boolean registered;

  private Parsers() {}

  static synchronized void register() {
    if (registered) {
      return;
    }
    ChangeLogParserFactory factory = ChangeLogParserFactory.getInstance();
    factory.register(new XmlParser());
    factory.register(new YamlParser());
    factory.register(new FormattedSqlParser());
    factory.register(new PlainSqlParser());
    Scope.getCurrentScope().getSingleton(ChangeFactory.class).register(new UnreadChange());
    registered = true;
  }
}
