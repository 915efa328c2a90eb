package dev.colonnade.schema.liquibase;

import java.io.IOException;
import java.io.InputStream;
import java.io.Reader;
import java.nio.charset.CharacterCodingException;
import java.util.ArrayList;
import java.util.IdentityHashMap;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import liquibase.changelog.ChangeLogParameters;
import liquibase.changelog.DatabaseChangeLog;
import liquibase.exception.ChangeLogParseException;
import liquibase.exception.LiquibaseException;
import liquibase.parser.core.ParsedNode;
import liquibase.parser.core.ParsedNodeException;
import liquibase.parser.core.xml.AbstractChangeLogParser;
import liquibase.resource.ResourceAccessor;
import org.yaml.snakeyaml.LoaderOptions;
import org.yaml.snakeyaml.composer.Composer;
import org.yaml.snakeyaml.constructor.SafeConstructor;
import org.yaml.snakeyaml.error.MarkedYAMLException;
import org.yaml.snakeyaml.error.YAMLException;
import org.yaml.snakeyaml.nodes.MappingNode;
import org.yaml.snakeyaml.nodes.Node;
import org.yaml.snakeyaml.nodes.NodeTuple;
import org.yaml.snakeyaml.nodes.ScalarNode;
import org.yaml.snakeyaml.nodes.SequenceNode;
import org.yaml.snakeyaml.nodes.Tag;
import org.yaml.snakeyaml.parser.ParserImpl;
import org.yaml.snakeyaml.reader.StreamReader;
import org.yaml.snakeyaml.reader.UnicodeReader;
import org.yaml.snakeyaml.resolver.Resolver;

/**
 * Reads YAML and JSON changelogs into the tree that Liquibase loads, with the place of each entry.
 */
final class YamlParser extends AbstractChangeLogParser {
  private static final String ROOT = "databaseChangeLog";

  @Override
  public boolean supports(String changeLogFile, ResourceAccessor resourceAccessor) {
    String name = changeLogFile.toLowerCase(Locale.ROOT);
    return ReadSession.current().isPresent()
        && (name.endsWith(".yaml") || name.endsWith(".yml") || name.endsWith(".json"));
  }

  @Override
  public int getPriority() {
    return Parsers.PRIORITY;
  }

  @Override
  public DatabaseChangeLog parse(
      String path, ChangeLogParameters parameters, ResourceAccessor resourceAccessor)
      throws ChangeLogParseException {
    return ReadSession.current()
        .orElseThrow()
        .parse(
            path,
            () -> {
              ParsedNode tree = parseToNode(path, parameters, resourceAccessor);
              return load(path, tree, parameters, resourceAccessor);
            });
  }

  /** Loads the properties first, as they count for the whole file, then everything. */
  private static DatabaseChangeLog load(
      String path,
      ParsedNode tree,
      ChangeLogParameters parameters,
      ResourceAccessor resourceAccessor)
      throws ChangeLogParseException {
    DatabaseChangeLog changeLog = new DatabaseChangeLog(DatabaseChangeLog.normalizePath(path));
    changeLog.setChangeLogParameters(parameters);
    try {
      ParsedNode properties = new ParsedNode(null, ROOT);
      for (ParsedNode property : tree.getChildren(null, "property")) {
        properties.addChild(property);
      }
      changeLog.load(properties, resourceAccessor);
      changeLog.load(tree, resourceAccessor);
      return changeLog;
    } catch (LiquibaseException | ParsedNodeException e) {
      throw new ChangeLogParseException(e);
    }
  }

  @Override
  protected ParsedNode parseToNode(
      String path, ChangeLogParameters parameters, ResourceAccessor resourceAccessor)
      throws ChangeLogParseException {
    ReadSession session = ReadSession.current().orElseThrow();
    try (InputStream stream = resourceAccessor.getExisting(path).openInputStream();
        Reader reader = new UnicodeReader(stream)) {
      LoaderOptions options = new LoaderOptions();
      options.setCodePointLimit(Integer.MAX_VALUE);
      options.setMaxAliasesForCollections(Integer.MAX_VALUE);
      Composer composer =
          new Composer(new ParserImpl(new StreamReader(reader), options), new Resolver(), options);
      Node document = composer.getSingleNode();
      Values values = new Values(options);
      if (document == null
          || !(values.of(document) instanceof Map<?, ?> map)
          || !map.containsKey(ROOT)) {
        throw new ChangeLogParseException("no databaseChangeLog in the file");
      }
      Object entries = map.get(ROOT);
      if (entries != null && !(entries instanceof List)) {
        throw new ChangeLogParseException("databaseChangeLog is not a list");
      }
      ParsedNode root = new ParsedNode(null, ROOT);
      root.setValue(entries);
      IdentityHashMap<ParsedNode, Mark> marks = new IdentityHashMap<>();
      for (Entry entry : entries(document)) {
        if (entry.name().equals(ROOT)) {
          mark(root, entry.value(), marks);
        }
      }
      return new TreeGuard(session, path, marks).guarded(root);
    } catch (MarkedYAMLException e) {
      throw new ChangeLogParseException(message(e));
    } catch (YAMLException | IOException | ParsedNodeException e) {
      throw new ChangeLogParseException(reason(e));
    }
  }

  private static String reason(Exception e) {
    for (Throwable cause = e; cause != null; cause = cause.getCause()) {
      if (cause instanceof CharacterCodingException) {
        return "the text is not written in UTF-8";
      }
    }
    return e.getMessage();
  }

  private static String message(MarkedYAMLException e) {
    org.yaml.snakeyaml.error.Mark mark = e.getProblemMark();
    String place =
        mark == null
            ? ""
            : "line " + (mark.getLine() + 1) + " column " + (mark.getColumn() + 1) + ": ";
    return place + e.getProblem();
  }

  /** One key of a mapping, and where it stands. */
  private record Entry(String name, Mark mark, Node value) {}

  /** The keys below a node, in the order in which a tree has them as children. */
  private static List<Entry> entries(Node node) {
    List<Entry> entries = new ArrayList<>();
    if (node instanceof MappingNode mapping) {
      for (NodeTuple tuple : mapping.getValue()) {
        if (tuple.getKeyNode() instanceof ScalarNode key) {
          entries.add(
              new Entry(
                  key.getValue(),
                  new Mark(key.getStartMark().getLine() + 1, key.getStartMark().getColumn() + 1),
                  tuple.getValueNode()));
        }
      }
    } else if (node instanceof SequenceNode sequence) {
      for (Node item : sequence.getValue()) {
        if (item instanceof MappingNode) {
          entries.addAll(entries(item));
        }
      }
    }
    return entries;
  }

  private static void mark(ParsedNode tree, Node source, IdentityHashMap<ParsedNode, Mark> marks) {
    List<Entry> entries = entries(source);
    List<ParsedNode> children = tree.getChildren();
    int at = 0;
    for (ParsedNode child : children) {
      int found = at;
      while (found < entries.size() && !entries.get(found).name().equals(child.getName())) {
        found++;
      }
      if (found < entries.size()) {
        Entry entry = entries.get(found);
        if (!(entry.value() instanceof ScalarNode)) {
          marks.put(child, entry.mark());
        }
        mark(child, entry.value(), marks);
        at = found + 1;
      }
    }
  }

  /** Makes plain values of a document. Dates stay as they are written. */
  private static final class Values extends SafeConstructor {
    Values(LoaderOptions options) {
      super(options);
      yamlConstructors.put(Tag.TIMESTAMP, yamlConstructors.get(Tag.STR));
    }

    Object of(Node document) {
      return constructDocument(document);
    }
  }
}
