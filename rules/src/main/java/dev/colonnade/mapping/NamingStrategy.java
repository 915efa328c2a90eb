package dev.colonnade.mapping;

/** How names of tables and columns follow from the names in classes and annotations. */
public enum NamingStrategy {
  /** Names as they are written: the rules of Jakarta Persistence. */
  JPA("jpa") {
    @Override
    public String physical(String name) {
      return name;
    }
  },
  /**
   * Lower case with an underscore where a small letter or a digit meets a capital; dots become
   * underscores. Applied to written names too: what Spring Boot sets up ({@code
   * CamelCaseToUnderscoresNamingStrategy}, Hibernate ORM's Javadoc).
   */
  SNAKE_CASE("snake_case") {
    @Override
    public String physical(String name) {
      StringBuilder result = new StringBuilder(name.replace('.', '_'));
      for (int i = 1; i < result.length() - 1; i++) {
        if (breaksBefore(result.charAt(i - 1), result.charAt(i), result.charAt(i + 1))) {
          result.insert(i++, '_');
        }
      }
      return result.toString().toLowerCase(java.util.Locale.ROOT);
    }
  };

  private final String word;

  NamingStrategy(String word) {
    this.word = word;
  }

  /** The word used in configurations. */
  public String word() {
    return word;
  }

  /** The name in the database of what is called {@code name} in a class or an annotation. */
  public abstract String physical(String name);

  private static boolean breaksBefore(char before, char current, char after) {
    boolean small = Character.isLowerCase(before) || Character.isDigit(before);
    return small
        && Character.isUpperCase(current)
        && (Character.isLowerCase(after) || Character.isDigit(after));
  }
}
