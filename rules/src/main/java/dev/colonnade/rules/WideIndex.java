package dev.colonnade.rules;

import dev.colonnade.finding.Evidence.Label;
import dev.colonnade.finding.Finding;
import dev.colonnade.finding.PathText;
import dev.colonnade.finding.Severity;
import dev.colonnade.rule.Category;
import dev.colonnade.rule.RuleContext;
import dev.colonnade.rule.RuleMetadata;
import dev.colonnade.rule.RuleOption;
import dev.colonnade.rule.SchemaRule;
import dev.colonnade.schema.ColumnType;
import dev.colonnade.schema.Index;
import dev.colonnade.schema.KeyColumn;
import dev.colonnade.schema.Table;
import dev.colonnade.schema.TypeFamily;
import dev.colonnade.statistics.ColumnWidths;
import dev.colonnade.statistics.Confidence;
import dev.colonnade.statistics.Estimate;
import dev.colonnade.statistics.IndexSize;
import dev.colonnade.statistics.TableProfile;
import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import java.util.Optional;

/**
 * Reports an index that goes beyond a limit of the database, or whose entries are nearly as wide as
 * the rows, so that it saves little reading and doubles the writing.
 *
 * <p>The declared length of a text counts with one byte a character, the least that any encoding
 * takes: a key said to be too long is too long. Silent about small entries, whatever their share,
 * and about indexes that constraints own.
 */
final class WideIndex implements SchemaRule {
  /** Entries up to so many bytes are small whatever the row; a few integers. Our own choice. */
  private static final double SMALL_ENTRY = 64;

  static final RuleOption<Double> MAXIMUM_SHARE =
      RuleOption.ofDouble("maximumShare", 0.5, "widest entry as a share of the row's bytes");

  static final RuleMetadata METADATA =
      RuleMetadata.rule(WideIndex.class)
          .summary("entries are nearly as wide as the rows, or beyond what the database allows")
          .category(Category.SHAPE)
          .severity(Severity.WARNING)
          .since("0.1")
          .options(MAXIMUM_SHARE)
          .build();

  @Override
  public RuleMetadata metadata() {
    return METADATA;
  }

  @Override
  public List<Finding> check(Table table, RuleContext context) {
    List<Finding> findings = new ArrayList<>();
    for (Index index : table.indexes()) {
      if (!index.origin().isConstraint() && !index.clustered()) {
        beyondLimit(table, index, context)
            .or(() -> beyondShare(table, index, context))
            .ifPresent(findings::add);
      }
    }
    return findings;
  }

  private static Optional<Finding> beyondLimit(Table table, Index index, RuleContext context) {
    int mostColumns = context.dialect().features().maxKeyColumns().value();
    int mostBytes = context.dialect().features().maxKeyBytes().value();
    String database = context.dialect().displayName();
    int columns = index.keyColumns().size();
    long bytes = index.keyColumns().stream().mapToLong(part -> declaredBytes(table, part)).sum();
    String excess;
    if (mostColumns > 0 && columns > mostColumns) {
      excess = columns + " key columns; " + database + " allows " + mostColumns;
    } else if (mostBytes > 0 && bytes > mostBytes) {
      excess =
          "the declared key takes "
              + bytes
              + " bytes at one byte a character; "
              + database
              + " allows "
              + mostBytes;
    } else {
      return Optional.empty();
    }
    return Optional.of(
        start(table, index, context)
            .line(Label.INDEX, excess)
            .line(Label.FIX, "leave out the columns at the end of the key, or shorten their types")
            .line(Label.PRICE, "the columns left out are checked on the row")
            .build(index.name() + " is wider than " + database + " allows"));
  }

  private static long declaredBytes(Table table, KeyColumn part) {
    if (part.prefixLength().isPresent()) {
      return part.prefixLength().getAsInt();
    }
    Optional<ColumnType> type = part.column().flatMap(table::column).map(column -> column.type());
    boolean text =
        type.map(t -> t.family() == TypeFamily.TEXT || t.family() == TypeFamily.BINARY)
            .orElse(false);
    return text ? type.get().length().orElse(0) : 0;
  }

  private static Optional<Finding> beyondShare(Table table, Index index, RuleContext context) {
    TableProfile profile =
        new TableProfile(table, context.statistics().table(table.name()), context.dialect());
    IndexSize size = profile.index(index);
    Estimate row = new ColumnWidths(table, context.statistics().table(table.name())).row();
    double share = context.option(METADATA, MAXIMUM_SHARE);
    if (size.entryBytes() <= SMALL_ENTRY || size.entryBytes() <= share * row.value()) {
      return Optional.empty();
    }
    Confidence confidence = size.confidence().weaker(row.confidence());
    String width =
        String.format(
            Locale.ROOT,
            "an entry takes about %d bytes, a row about %d (%s); %s",
            Math.round(size.entryBytes()),
            Math.round(row.value()),
            confidence.word(),
            PathText.count(size.totalPages(), "page", "pages"));
    return Optional.of(
        start(table, index, context)
            .line(Label.INDEX, width)
            .line(
                Label.FIX,
                "keep the columns that bound or order a scan; drop the wide ones at the end")
            .line(Label.PRICE, "queries that the index covers now would fetch the row")
            .assumed(confidence == Confidence.ASSUMED)
            .build(
                "entries of " + index.name() + " are nearly as wide as rows of " + table.name()));
  }

  private static Finding.Builder start(Table table, Index index, RuleContext context) {
    return context
        .finding(METADATA, index)
        .line(Label.QUERY, SurplusText.readers(context.usesOf(table, index)))
        .line(Label.INDEX, SurplusText.describe(index));
  }
}
