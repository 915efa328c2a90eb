package dev.colonnade.query.jpql;

import dev.colonnade.mapping.Mapping;
import java.util.List;
import java.util.Optional;
import java.util.regex.Pattern;
import org.hibernate.grammars.hql.HqlParser;

/**
 * Translates JPQL and HQL into SQL. The result is one statement that the database would prepare and
 * that reads and compares the same columns as the one an implementation of Jakarta Persistence
 * sends; what is not understood exactly is not translated.
 */
public final class JpqlTranslator {
  private static final Pattern ORDERED =
      Pattern.compile("\\border\\s+by\\b[^)]*$", Pattern.CASE_INSENSITIVE);

  private final Mapping mapping;
  private final String database;

  /**
   * A translator.
   *
   * @param mapping the entities
   * @param database Liquibase's short name of the database
   */
  public JpqlTranslator(Mapping mapping, String database) {
    this.mapping = mapping;
    this.database = database;
  }

  /** Translates a text that names its entities. */
  public JpqlResult translate(String text) {
    return translate(text, Optional.empty());
  }

  /**
   * Translates one statement. Never throws.
   *
   * @param entityName what stands for {@code #{#entityName}}
   */
  public JpqlResult translate(String text, Optional<String> entityName) {
    return translate(text, entityName, List.of());
  }

  /**
   * Translates one statement that reads more along. Never throws.
   *
   * @param entityName what stands for {@code #{#entityName}}
   * @param fetched paths from the first entity to those that are read along, as an entity graph
   *     names them
   */
  public JpqlResult translate(String text, Optional<String> entityName, List<String> fetched) {
    return translate(text, entityName, fetched, false);
  }

  /**
   * Translates the query that counts the rows of the given one, as Spring Data JPA derives it for a
   * page: no order, no fetched joins, the first entity is counted.
   */
  public JpqlResult translateCount(String text, Optional<String> entityName) {
    return translate(text, entityName, List.of(), true);
  }

  /** The SQL with a clause that gives out one page of its rows, of unknown size and place. */
  public String paged(String sql) {
    boolean ordered = ORDERED.matcher(sql).find();
    return sql.stripTrailing()
        + new SqlWords(database)
            .limit(Optional.of(":pageSize"), Optional.of(":pageOffset"), ordered);
  }

  private JpqlResult translate(
      String text, Optional<String> entityName, List<String> fetched, boolean count) {
    HqlText hql = new HqlText(text, entityName);
    try {
      HqlParser.StatementContext parsed = HqlSyntax.parse(hql.clean());
      return FilterVariants.of(mapping, database, it -> translate(it, parsed, fetched, count));
    } catch (UntranslatableException e) {
      int[] place = hql.place(Math.max(e.line(), 1), Math.max(e.column(), 1));
      return new JpqlResult.NotTranslated(e.getMessage(), place[0], place[1]);
    } catch (StackOverflowError e) {
      return new JpqlResult.NotTranslated("the query is nested too deeply", 1, 1);
    }
  }

  private static List<String> translate(
      Statement statement, HqlParser.StatementContext parsed, List<String> fetched, boolean count) {
    statement.fetched = List.copyOf(fetched);
    if (parsed.selectStatement() != null) {
      Queries queries = new Queries(statement);
      if (count) {
        return List.of(queries.count(parsed.selectStatement().queryExpression()));
      }
      return List.of(
          queries.expression(parsed.selectStatement().queryExpression(), Optional.empty(), true));
    }
    if (count) {
      throw UntranslatableException.at(parsed, "only the rows of a query can be counted");
    }
    Changes changes = new Changes(statement);
    if (parsed.updateStatement() != null) {
      return changes.update(parsed.updateStatement());
    }
    if (parsed.deleteStatement() != null) {
      return changes.delete(parsed.deleteStatement());
    }
    return changes.insert(parsed.insertStatement());
  }
}
