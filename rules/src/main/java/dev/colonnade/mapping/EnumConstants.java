package dev.colonnade.mapping;

import java.util.List;

/**
 * An enum of the service.
 *
 * @param className its binary name
 * @param names its constants in declared order
 */
public record EnumConstants(String className, List<String> names) {
  /** Copies the list. */
  public EnumConstants {
    names = List.copyOf(names);
  }
}
