package dev.colonnade.schema.liquibase;

import liquibase.change.AbstractChange;
import liquibase.change.ChangeMetaData;
import liquibase.change.DatabaseChange;
import liquibase.database.Database;
import liquibase.parser.core.ParsedNode;
import liquibase.parser.core.ParsedNodeException;
import liquibase.resource.ResourceAccessor;
import liquibase.statement.SqlStatement;

/**
 * Stands for a change that is not read: of an unknown type, or one that would run code of the
 * service. Public with a public constructor because Liquibase makes instances by reflection.
 */
@DatabaseChange(
    name = UnreadChange.NAME,
    description = "Stands for a change that is not read",
    priority = ChangeMetaData.PRIORITY_DEFAULT)
public final class UnreadChange extends AbstractChange {
  /** The name under which changes of this kind are put into the tree of a changelog. */
  static final String NAME = "colonnadeUnread";

  /** The child that says why. */
  static final String REASON = "reason";

  private String reason = "not understood";

  /** For Liquibase. */
  public UnreadChange() {}

  /** Why the change is not read. */
  String reason() {
    return reason;
  }

  @Override
  public void load(ParsedNode node, ResourceAccessor resourceAccessor) throws ParsedNodeException {
    reason = node.getChildValue(null, REASON, String.class);
  }

  @Override
  public boolean supports(Database database) {
    return true;
  }

  @Override
  public String getConfirmationMessage() {
    return reason;
  }

  @Override
  public SqlStatement[] generateStatements(Database database) {
    return new SqlStatement[0];
  }
}
