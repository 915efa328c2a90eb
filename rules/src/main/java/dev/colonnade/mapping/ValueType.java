package dev.colonnade.mapping;

import java.util.Optional;

/**
 * What a column holds, seen from the class.
 *
 * @param javaType binary name of the attribute's class, or the name of the primitive type
 * @param storage how its values are written
 */
public record ValueType(String javaType, Storage storage) {
  /** How the values of an attribute are written into a column. */
  public enum Storage {
    /** As they are. */
    PLAIN,
    /** An enum by the names of its constants. */
    ENUM_NAME,
    /** An enum by the position of its constants, counted from 0. */
    ENUM_ORDINAL,
    /** A truth value as {@code 'Y'} or {@code 'N'}: Hibernate's {@code YesNoConverter}. */
    YES_NO,
    /** A truth value as {@code 'T'} or {@code 'F'}: Hibernate's {@code TrueFalseConverter}. */
    TRUE_FALSE,
    /** A truth value as 1 or 0: Hibernate's {@code NumericBooleanConverter}. */
    ONE_ZERO,
    /** In a form that a converter of the service decides. */
    CONVERTED
  }

  /**
   * A truth value as a literal of the column; empty where a converter of the service decides.
   *
   * @param plain the literal where no converter is
   */
  public Optional<String> truth(boolean value, String plain) {
    return switch (storage) {
      case PLAIN, ENUM_NAME, ENUM_ORDINAL -> Optional.of(plain);
      case YES_NO -> Optional.of(value ? "'Y'" : "'N'");
      case TRUE_FALSE -> Optional.of(value ? "'T'" : "'F'");
      case ONE_ZERO -> Optional.of(value ? "1" : "0");
      case CONVERTED -> Optional.empty();
    };
  }

  /** True for truth values that are written as such. */
  public boolean isBoolean() {
    return storage == Storage.PLAIN
        && (javaType.equals("boolean") || javaType.equals("java.lang.Boolean"));
  }

  /** True where the column holds one of a fixed list of constants. */
  public boolean isEnum() {
    return storage == Storage.ENUM_NAME || storage == Storage.ENUM_ORDINAL;
  }
}
