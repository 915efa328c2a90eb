package dev.colonnade.query.mapper;

import static org.assertj.core.api.Assertions.assertThat;

import dev.colonnade.query.QueryText;
import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.stream.Collectors;

/** Reads a mapper of some statements. */
final class MapperTexts {
  static final String HEAD =
      """
      <?xml version="1.0" encoding="UTF-8"?>
      <!DOCTYPE mapper PUBLIC "-//mybatis.org//DTD Mapper 3.0//EN" "http://mybatis.org/dtd/mybatis-3-mapper.dtd">
      <mapper namespace="port">
      """;

  private MapperTexts() {}

  static MapperReading read(Path base, String statements) throws IOException {
    return read(base, Map.of(), statements);
  }

  static MapperReading read(Path base, Map<String, String> properties, String statements)
      throws IOException {
    Path file = base.resolve("port.xml");
    Files.writeString(file, HEAD + statements + "</mapper>\n");
    return new MapperReader(base, "postgresql", properties).read(List.of(file));
  }

  /** The texts, spaces taken together, by {@link #numbered number}; all must be read. */
  static Map<String, String> texts(MapperReading reading) {
    assertThat(reading.unanalysed()).isEmpty();
    return numbered(reading).stream()
        .collect(
            Collectors.toMap(
                Map.Entry::getKey, entry -> Whitespace.collapse(entry.getValue().sql())));
  }

  /** The texts in order; where one statement has several, with numbers behind its id. */
  static List<Map.Entry<String, QueryText>> numbered(MapperReading reading) {
    Map<String, Long> texts =
        reading.queries().stream()
            .collect(Collectors.groupingBy(QueryText::id, Collectors.counting()));
    Map<String, Integer> seen = new HashMap<>();
    return reading.queries().stream()
        .map(
            text -> {
              int number = seen.merge(text.id(), 1, Integer::sum);
              String suffix = texts.get(text.id()) > 1 ? "#" + number : "";
              return Map.entry(text.id() + suffix, text);
            })
        .toList();
  }
}
