package dev.colonnade.plugin;

/**
 * One root of the parameter {@code changelogs}: a changelog file, and the contexts and labels that
 * it is run with.
 */
public final class Changelog {
  private String file;
  private String contexts;
  private String labels;

  /** For the configurator, which fills the fields. */
  public Changelog() {}

  /**
   * Called by the configurator where one word stands for the whole element, as in {@code
   * -Dcolonnade.changelogs=a.xml,b.xml}.
   */
  public void set(String text) {
    file = text.trim();
  }

  /** The path as Liquibase would be given it, or {@code null} where the element says none. */
  String file() {
    return file;
  }

  /** The contexts of this root, or {@code null}: then those of the goal hold. */
  String contexts() {
    return contexts;
  }

  /** The label expression of this root, or {@code null}: then that of the goal holds. */
  String labels() {
    return labels;
  }
}
