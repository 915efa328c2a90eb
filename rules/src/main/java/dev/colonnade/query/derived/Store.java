package dev.colonnade.query.derived;

/** What answers the methods of a repository, and thereby what their names can say. */
public enum Store {
  /** Spring Data JPA: conditions reach the attributes of other entities. */
  JPA,
  /**
   * Spring Data JDBC: conditions reach the columns of the root alone, truth values are given apart
   * from the text, {@code Distinct} says nothing ({@code JdbcQueryCreator} and {@code
   * StatementFactory} of Spring Data JDBC 4.1).
   */
  JDBC,
  /**
   * Spring Data R2DBC: one table, truth values are given apart from the text ({@code
   * R2dbcQueryCreator} of Spring Data R2DBC 4.1).
   */
  R2DBC
}
