package dev.colonnade.mapping;

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
    /** In a form that a converter of the service decides. */
    CONVERTED
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
