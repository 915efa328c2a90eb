package dev.colonnade.query.source;

import dev.colonnade.classfile.ClassFiles;
import dev.colonnade.classfile.ClassFiles.ClassFile;
import dev.colonnade.location.SourceLocation;
import dev.colonnade.query.mapper.MapperReader;
import java.util.ArrayList;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.Set;
import org.jboss.jandex.AnnotationInstance;
import org.jboss.jandex.AnnotationValue;
import org.jboss.jandex.MethodInfo;

/**
 * Statements of MyBatis in annotations (MyBatis 3 reference, "Mapper Annotations"; the attributes
 * as in 3.5). Of several for one method the one whose {@code databaseId} names the database counts,
 * else the one without.
 */
final class MybatisMethods {
  static final String OWN_METHOD = "a method of the service makes its SQL";

  private static final String PACKAGE = "org.apache.ibatis.annotations.";
  private static final Set<String> STATEMENTS = Set.of("Select", "Insert", "Update", "Delete");
  private static final String PROVIDER = "Provider";
  private static final String CONTAINER = "$List";
  private static final String SELECT_KEY = "SelectKey";
  private static final Set<String> DRIVERS =
      Set.of(
          "org.apache.ibatis.scripting.xmltags.XMLLanguageDriver",
          "org.apache.ibatis.scripting.defaults.RawLanguageDriver");

  /** One annotation; which of its name in the source it is, counted from 0. */
  private record Statement(String kind, AnnotationInstance annotation, int occurrence) {
    String databaseId() {
      return SqlMethods.text(annotation, "databaseId");
    }
  }

  private final SqlMethods methods;
  private final MapperReader mappers;
  private final ClassFiles classes;

  MybatisMethods(SqlMethods methods, MapperReader mappers, ClassFiles classes) {
    this.methods = methods;
    this.classes = classes;
    this.mappers = mappers;
  }

  void read(ClassFile file, MethodInfo method, List<AnnotationInstance> annotations) {
    List<Statement> statements = new ArrayList<>();
    List<Statement> keys = new ArrayList<>();
    Map<String, Integer> seen = new HashMap<>();
    boolean ownLanguage = false;
    for (AnnotationInstance annotation : annotations) {
      String name = annotation.name().toString();
      if (!name.startsWith(PACKAGE)) {
        continue;
      }
      String kind = name.substring(PACKAGE.length());
      ownLanguage |=
          kind.equals("Lang") && !DRIVERS.contains(annotation.value().asClass().name().toString());
      boolean container = kind.endsWith(CONTAINER);
      String single = container ? kind.substring(0, kind.length() - CONTAINER.length()) : kind;
      List<AnnotationInstance> all =
          container ? List.of(annotation.value().asNestedArray()) : List.of(annotation);
      for (AnnotationInstance one : all) {
        Statement statement = new Statement(single, one, seen.merge(single, 1, Integer::sum) - 1);
        if (single.equals(SELECT_KEY)) {
          keys.add(statement);
        } else if (STATEMENTS.contains(single.replace(PROVIDER, ""))) {
          statements.add(statement);
        }
      }
    }
    for (Statement statement : chosen(statements)) {
      read(file, method, statement, "value", "", ownLanguage);
    }
    for (Statement key : chosen(keys)) {
      read(file, method, key, "statement", "!selectKey", ownLanguage);
    }
  }

  /**
   * The method that makes the SQL is named, or called as the mapper's (MyBatis 3 reference, "Mapper
   * Annotations"); what it puts together of constants is read.
   */
  private void provided(
      String id, SourceLocation place, MethodInfo method, AnnotationInstance annotation) {
    AnnotationValue type = annotation.value("value");
    AnnotationValue provider = type == null ? annotation.value("type") : type;
    String named = SqlMethods.text(annotation, "method");
    List<String> texts = new ArrayList<>();
    for (String name : named.isEmpty() ? List.of(method.name(), "provideSql") : List.of(named)) {
      if (provider != null && texts.isEmpty()) {
        texts.addAll(classes.returnedTexts(provider.asClass().name().toString(), name));
      }
    }
    if (texts.isEmpty()) {
      methods.refuse(id, place, OWN_METHOD);
    }
    texts.forEach(text -> methods.add(mappers.script(id, place, text)));
  }

  private List<Statement> chosen(List<Statement> statements) {
    return mappers.ofThisDatabase(statements, Statement::databaseId);
  }

  private void read(
      ClassFile file,
      MethodInfo method,
      Statement statement,
      String attribute,
      String suffix,
      boolean ownLanguage) {
    String id = methods.id(file, method, suffix);
    SourceLocation place = methods.place(file, method, statement.kind(), statement.occurrence());
    String text = SqlMethods.text(statement.annotation(), attribute);
    if (!statement.databaseId().isEmpty() && !mappers.isKnown(statement.databaseId())) {
      methods.refuse(id, place, MapperReader.unknownDatabase(statement.databaseId()));
    } else if (statement.kind().endsWith(PROVIDER)) {
      provided(id, place, method, statement.annotation());
    } else if (ownLanguage) {
      methods.refuse(id, place, "a language driver of the service makes its SQL");
    } else if (text.isBlank()) {
      methods.refuse(id, place, AnnotationTexts.NO_TEXT);
    } else {
      methods.add(mappers.script(id, place, text));
    }
  }
}
