package dev.colonnade.schema.sql;

import dev.colonnade.schema.ColumnType;
import dev.colonnade.schema.TypeFamily;
import java.util.Locale;
import java.util.Map;
import java.util.OptionalInt;
import java.util.regex.Matcher;
import java.util.regex.Pattern;

/**
 * What kind of values a declared type holds, over the type names of all supported databases; where
 * one name means different things, the wider family is taken.
 */
public final class TypeFamilies {
  private static final Pattern SIZE =
      Pattern.compile("\\(\\s*(\\d+)[^,)]*(?:,\\s*(\\d+))?[^)]*\\)");

  private static final Map<String, TypeFamily> BY_NAME =
      Map.ofEntries(
          Map.entry("smallint", TypeFamily.SMALL_INTEGER),
          Map.entry("int2", TypeFamily.SMALL_INTEGER),
          Map.entry("tinyint", TypeFamily.SMALL_INTEGER),
          Map.entry("smallserial", TypeFamily.SMALL_INTEGER),
          Map.entry("serial2", TypeFamily.SMALL_INTEGER),
          Map.entry("year", TypeFamily.SMALL_INTEGER),
          Map.entry("int", TypeFamily.INTEGER),
          Map.entry("integer", TypeFamily.INTEGER),
          Map.entry("int4", TypeFamily.INTEGER),
          Map.entry("mediumint", TypeFamily.INTEGER),
          Map.entry("serial", TypeFamily.INTEGER),
          Map.entry("serial4", TypeFamily.INTEGER),
          Map.entry("identity", TypeFamily.BIG_INTEGER),
          Map.entry("bigint", TypeFamily.BIG_INTEGER),
          Map.entry("int8", TypeFamily.BIG_INTEGER),
          Map.entry("bigserial", TypeFamily.BIG_INTEGER),
          Map.entry("serial8", TypeFamily.BIG_INTEGER),
          Map.entry("decimal", TypeFamily.DECIMAL),
          Map.entry("dec", TypeFamily.DECIMAL),
          Map.entry("numeric", TypeFamily.DECIMAL),
          Map.entry("number", TypeFamily.DECIMAL),
          Map.entry("money", TypeFamily.DECIMAL),
          Map.entry("smallmoney", TypeFamily.DECIMAL),
          Map.entry("currency", TypeFamily.DECIMAL),
          Map.entry("float", TypeFamily.FLOAT),
          Map.entry("float4", TypeFamily.FLOAT),
          Map.entry("float8", TypeFamily.FLOAT),
          Map.entry("real", TypeFamily.FLOAT),
          Map.entry("double", TypeFamily.FLOAT),
          Map.entry("binary_float", TypeFamily.FLOAT),
          Map.entry("binary_double", TypeFamily.FLOAT),
          Map.entry("decfloat", TypeFamily.DECIMAL),
          Map.entry("char", TypeFamily.TEXT),
          Map.entry("character", TypeFamily.TEXT),
          Map.entry("bpchar", TypeFamily.TEXT),
          Map.entry("nchar", TypeFamily.TEXT),
          Map.entry("national", TypeFamily.TEXT),
          Map.entry("varchar", TypeFamily.TEXT),
          Map.entry("varchar2", TypeFamily.TEXT),
          Map.entry("nvarchar", TypeFamily.TEXT),
          Map.entry("nvarchar2", TypeFamily.TEXT),
          Map.entry("varchar_ignorecase", TypeFamily.TEXT),
          Map.entry("longvarchar", TypeFamily.TEXT),
          Map.entry("text", TypeFamily.TEXT),
          Map.entry("citext", TypeFamily.TEXT),
          Map.entry("name", TypeFamily.TEXT),
          Map.entry("enum", TypeFamily.TEXT),
          Map.entry("set", TypeFamily.TEXT),
          Map.entry("sysname", TypeFamily.TEXT),
          Map.entry("boolean", TypeFamily.BOOLEAN),
          Map.entry("bool", TypeFamily.BOOLEAN),
          Map.entry("bit", TypeFamily.BOOLEAN),
          Map.entry("date", TypeFamily.DATE),
          Map.entry("time", TypeFamily.TIME),
          Map.entry("timetz", TypeFamily.TIME),
          Map.entry("timestamp", TypeFamily.TIMESTAMP),
          Map.entry("timestamptz", TypeFamily.TIMESTAMP),
          Map.entry("datetime", TypeFamily.TIMESTAMP),
          Map.entry("datetime2", TypeFamily.TIMESTAMP),
          Map.entry("smalldatetime", TypeFamily.TIMESTAMP),
          Map.entry("datetimeoffset", TypeFamily.TIMESTAMP),
          Map.entry("uuid", TypeFamily.UUID),
          Map.entry("uniqueidentifier", TypeFamily.UUID),
          Map.entry("binary", TypeFamily.BINARY),
          Map.entry("varbinary", TypeFamily.BINARY),
          Map.entry("longvarbinary", TypeFamily.BINARY),
          Map.entry("raw", TypeFamily.BINARY),
          Map.entry("bytea", TypeFamily.BINARY),
          Map.entry("rowversion", TypeFamily.BINARY),
          Map.entry("blob", TypeFamily.LARGE_OBJECT),
          Map.entry("clob", TypeFamily.LARGE_OBJECT),
          Map.entry("nclob", TypeFamily.LARGE_OBJECT),
          Map.entry("dbclob", TypeFamily.LARGE_OBJECT),
          Map.entry("ntext", TypeFamily.LARGE_OBJECT),
          Map.entry("image", TypeFamily.LARGE_OBJECT),
          Map.entry("oid", TypeFamily.LARGE_OBJECT),
          Map.entry("long", TypeFamily.LARGE_OBJECT),
          Map.entry("bfile", TypeFamily.LARGE_OBJECT),
          Map.entry("tinytext", TypeFamily.LARGE_OBJECT),
          Map.entry("mediumtext", TypeFamily.LARGE_OBJECT),
          Map.entry("longtext", TypeFamily.LARGE_OBJECT),
          Map.entry("tinyblob", TypeFamily.LARGE_OBJECT),
          Map.entry("mediumblob", TypeFamily.LARGE_OBJECT),
          Map.entry("longblob", TypeFamily.LARGE_OBJECT));

  private TypeFamilies() {}

  /** The type, as declared in a column definition. */
  public static ColumnType type(String declared) {
    String text = declared.strip().replaceAll("\\s+", " ");
    Matcher size = SIZE.matcher(text);
    OptionalInt length = OptionalInt.empty();
    OptionalInt scale = OptionalInt.empty();
    if (size.find()) {
      length = number(size.group(1));
      scale = size.group(2) == null ? OptionalInt.empty() : number(size.group(2));
    }
    return new ColumnType(text, family(text), length, scale);
  }

  private static OptionalInt number(String digits) {
    return digits.length() > 9 ? OptionalInt.empty() : OptionalInt.of(Integer.parseInt(digits));
  }

  /** The family of a declared type. */
  public static TypeFamily family(String declared) {
    String text = declared.strip().toLowerCase(Locale.ROOT);
    if (text.endsWith("[]") || text.contains(" array")) {
      return TypeFamily.OTHER;
    }
    if (text.contains("for bit data")) {
      return TypeFamily.BINARY;
    }
    if (text.matches("(?:national )?char(?:acter)? large object.*|binary large object.*")) {
      return TypeFamily.LARGE_OBJECT;
    }
    if (text.matches("(?:binary|char(?:acter)? )varying.*|binary varying.*")) {
      return text.startsWith("binary") ? TypeFamily.BINARY : TypeFamily.TEXT;
    }
    return BY_NAME.getOrDefault(firstWord(text), TypeFamily.OTHER);
  }

  /** True for a word that starts the name of a type. */
  static boolean isTypeName(String word) {
    return BY_NAME.containsKey(word.toLowerCase(Locale.ROOT));
  }

  private static String firstWord(String text) {
    String withoutSchema = text.replaceFirst("^[\\[\"]?(?:sys|pg_catalog|public)[]\"]?\\.", "");
    Matcher word = Pattern.compile("[\\[\"`]?(\\w+)").matcher(withoutSchema);
    return word.lookingAt() ? word.group(1) : "";
  }
}
