package dev.colonnade.schema.liquibase;

import java.io.IOException;
import java.io.UncheckedIOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.Comparator;
import liquibase.change.custom.CustomTaskChange;
import liquibase.changelog.IncludeAllFilter;
import liquibase.database.Database;
import liquibase.exception.ValidationErrors;
import liquibase.precondition.CustomPrecondition;
import liquibase.resource.ResourceAccessor;

/** A class of a service: whoever loads it finds a file afterwards. */
public final class LeavesTrace
    implements CustomTaskChange, CustomPrecondition, IncludeAllFilter, Comparator<String> {
  /** The file that loading leaves. */
  public static final String TRACE = "target/loaded-class-of-the-service";

  static {
    try {
      Files.writeString(Path.of(TRACE), "loaded");
    } catch (IOException e) {
      throw new UncheckedIOException(e);
    }
  }

  /** For Liquibase. */
  public LeavesTrace() {}

  @Override
  public void execute(Database database) {}

  @Override
  public String getConfirmationMessage() {
    return "";
  }

  @Override
  public void setUp() {}

  @Override
  public void setFileOpener(ResourceAccessor resourceAccessor) {}

  @Override
  public ValidationErrors validate(Database database) {
    return new ValidationErrors();
  }

  @Override
  public void check(Database database) {}

  @Override
  public boolean include(String changeLogPath) {
    return true;
  }

  @Override
  public int compare(String left, String right) {
    return left.compareTo(right);
  }
}
