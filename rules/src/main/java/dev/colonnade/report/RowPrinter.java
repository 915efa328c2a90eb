package dev.colonnade.report;

import com.fasterxml.jackson.core.JsonGenerator;
import com.fasterxml.jackson.core.util.DefaultIndenter;
import com.fasterxml.jackson.core.util.DefaultPrettyPrinter;
import java.io.IOException;
import java.util.Set;

/**
 * Lays a document out with what there is most of in rows: outer objects have a line for each key,
 * those deeper inside stand in one line, each of a list that is named in a line of its own. Without
 * that, a third of a large document is blanks.
 */
final class RowPrinter extends DefaultPrettyPrinter {
  private static final long serialVersionUID = 1L;

  private static final DefaultIndenter LINES = new DefaultIndenter("  ", "\n");

  private final int depth;
  private final Set<String> lists;

  /**
   * A printer.
   *
   * @param depth objects inside of so many others stand in one line
   * @param lists the names of lists whose elements each have a line
   */
  RowPrinter(int depth, Set<String> lists) {
    this.depth = depth;
    this.lists = Set.copyOf(lists);
    indentObjectsWith(new Outer(depth));
  }

  @Override
  public DefaultPrettyPrinter createInstance() {
    return new RowPrinter(depth, lists);
  }

  @Override
  public void writeEndObject(JsonGenerator generator, int entries) throws IOException {
    _nesting--;
    if (entries > 0 && _nesting < depth) {
      LINES.writeIndentation(generator, _nesting);
    } else {
      generator.writeRaw(' ');
    }
    generator.writeRaw('}');
  }

  @Override
  public void beforeArrayValues(JsonGenerator generator) throws IOException {
    between(generator);
  }

  @Override
  public void writeArrayValueSeparator(JsonGenerator generator) throws IOException {
    generator.writeRaw(',');
    between(generator);
  }

  private void between(JsonGenerator generator) throws IOException {
    String name = generator.getOutputContext().getParent().getCurrentName();
    if (name != null && lists.contains(name)) {
      LINES.writeIndentation(generator, depth + 1);
    } else {
      generator.writeRaw(' ');
    }
  }

  /** A line for each key of the outer objects. */
  private static final class Outer extends NopIndenter {
    private static final long serialVersionUID = 1L;

    private final int depth;

    Outer(int depth) {
      this.depth = depth;
    }

    @Override
    public void writeIndentation(JsonGenerator generator, int level) throws IOException {
      if (level <= depth) {
        LINES.writeIndentation(generator, level);
      } else {
        generator.writeRaw(' ');
      }
    }

    @Override
    public boolean isInline() {
      return false;
    }
  }
}
