package dev.colonnade.finding;

/**
 * One line of what a finding rests on or leads to.
 *
 * @param label what the line speaks of
 * @param text the line, without full stop and without line break
 */
public record Evidence(Label label, String text) {
  /** What a line speaks of, in the order in which the lines of a finding stand. */
  public enum Label {
    /** What was read: the conditions and the order of the query. */
    QUERY("query"),
    /** What happens now: the access path with its estimate. */
    PATH("path"),
    /** What an existing index does about it, and why that is not enough. */
    INDEX("index"),
    /** What would help, and the access path it leads to. */
    FIX("fix"),
    /** What the remedy costs. */
    PRICE("price"),
    /** What to look at before the remedy is applied in production. */
    CAUTION("caution");

    private final String word;

    Label(String word) {
      this.word = word;
    }

    /** The word that stands before the line. */
    public String word() {
      return word;
    }
  }

  /** Folds white space, so that a line is one line. */
  public Evidence {
    text = text.strip().replaceAll("\\s+", " ");
  }

  /** Renders as label, padded, and text. */
  public String render() {
    return label.word() + " ".repeat(LABEL_WIDTH - label.word().length()) + text;
  }

  private static final int LABEL_WIDTH = 8;
}
