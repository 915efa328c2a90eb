package dev.colonnade.query.jpql;

import dev.colonnade.query.jpql.port.Booking;
import dev.colonnade.query.jpql.port.StayNotes;
import dev.colonnade.query.jpql.port.StayNotesImpl;
import jakarta.persistence.Entity;
import jakarta.persistence.EntityManager;
import java.lang.reflect.Array;
import java.lang.reflect.InvocationTargetException;
import java.lang.reflect.Method;
import java.math.BigDecimal;
import java.time.Duration;
import java.time.Instant;
import java.time.LocalDate;
import java.time.LocalDateTime;
import java.time.LocalTime;
import java.time.OffsetDateTime;
import java.time.ZoneOffset;
import java.util.Date;
import java.util.List;
import java.util.Map;
import java.util.Set;
import java.util.UUID;
import java.util.stream.IntStream;
import java.util.stream.Stream;
import org.springframework.core.ResolvableType;
import org.springframework.data.domain.Limit;
import org.springframework.data.domain.PageRequest;
import org.springframework.data.domain.Pageable;
import org.springframework.data.domain.ScrollPosition;
import org.springframework.data.domain.Sort;
import org.springframework.data.jpa.repository.support.JpaRepositoryFactory;
import org.springframework.data.repository.core.support.RepositoryComposition.RepositoryFragments;
import org.springframework.transaction.support.TransactionSynchronizationManager;

/** Spring Data's own repositories over a database that holds no row. */
final class PortRepositories {
  private final PortDatabase database;
  private final Map<Class<?>, Object> values;

  /** Where pages of windows start. */
  private ScrollPosition position = ScrollPosition.keyset();

  /**
   * Repositories over one database.
   *
   * @param values what is given for parameters of these types; the value for the type of an
   *     identifier is that of entities known by it
   */
  PortRepositories(PortDatabase database, Map<Class<?>, Object> values) {
    this.database = database;
    this.values = values;
  }

  /** The statements that a call sends which goes on behind a row with these values. */
  List<String> sentBehind(Map<String, ?> keys, Class<?> repository, Method method) {
    position = ScrollPosition.forward(keys);
    try {
      return sentBy(repository, method);
    } finally {
      position = ScrollPosition.keyset();
    }
  }

  /**
   * The statements that a call of the method sends.
   *
   * @param before statements that put rows there, which are among those sent
   */
  List<String> sentBy(Class<?> repository, Method method, String... before) {
    return database.sentBy(
        entities -> {
          for (String sql : before) {
            entities.createNativeQuery(sql).executeUpdate();
          }
          RepositoryFragments fragments =
              StayNotes.class.isAssignableFrom(repository)
                  ? RepositoryFragments.just(new StayNotesImpl())
                  : RepositoryFragments.empty();
          Object proxy = new JpaRepositoryFactory(entities).getRepository(repository, fragments);
          Object[] arguments =
              IntStream.range(0, method.getParameterCount())
                  .mapToObj(i -> ResolvableType.forMethodParameter(method, i, repository))
                  .map(type -> argument(type, entities))
                  .toArray();
          TransactionSynchronizationManager.setActualTransactionActive(
              method.getReturnType() == Stream.class);
          try {
            method.invoke(proxy, arguments);
            entities.flush();
          } catch (IllegalAccessException e) {
            throw new IllegalStateException(method.toString(), e);
          } catch (InvocationTargetException e) {
            if (!e.getCause().getClass().getSimpleName().equals("EmptyResultDataAccessException")) {
              throw new IllegalStateException(method.toString(), e.getCause());
            }
          } finally {
            TransactionSynchronizationManager.setActualTransactionActive(false);
          }
        });
  }

  /** Some value; a page behind the first one, so that its rows are counted. */
  Object argument(ResolvableType type, EntityManager entities) {
    Class<?> raw = type.toClass();
    Object own = values.get(raw);
    if (own != null) {
      return own;
    }
    if (raw.isArray()) {
      Object array = Array.newInstance(raw.componentType(), 1);
      Array.set(array, 0, argument(type.getComponentType(), entities));
      return array;
    }
    if (raw == Set.class) {
      return Set.of(argument(type.getGeneric(0), entities));
    }
    if (Iterable.class.isAssignableFrom(raw) && raw != Sort.class) {
      return List.of(argument(type.getGeneric(0), entities));
    }
    if (raw.isAnnotationPresent(Entity.class)) {
      Class<?> key = entities.getMetamodel().entity(raw).getIdType().getJavaType();
      return entities.getReference(raw, values.getOrDefault(key, 1L));
    }
    if (raw.isEnum()) {
      return raw.getEnumConstants()[0];
    }
    return switch (raw.getSimpleName()) {
      case "String" -> "x";
      case "boolean", "Boolean" -> true;
      case "int", "Integer" -> 1;
      case "long", "Long" -> 1L;
      case "double" -> 1.0;
      case "BigDecimal" -> BigDecimal.ONE;
      case "LocalDateTime" -> LocalDateTime.of(2026, 3, 1, 12, 0);
      case "LocalDate" -> LocalDate.of(2026, 3, 1);
      case "LocalTime" -> LocalTime.of(12, 0);
      case "OffsetDateTime" -> OffsetDateTime.of(2026, 3, 1, 12, 0, 0, 0, ZoneOffset.UTC);
      case "Instant" -> Instant.EPOCH;
      case "Date" -> Date.from(Instant.EPOCH);
      case "Duration" -> Duration.ofHours(1);
      case "UUID" -> new UUID(1, 2);
      case "Pageable" -> pageable();
      case "Sort" -> Sort.unsorted();
      case "Limit" -> Limit.of(5);
      case "ScrollPosition" -> position;
      case "Class" -> Booking.class;
      default -> throw new IllegalArgumentException(raw.toString());
    };
  }

  private static Pageable pageable() {
    return PageRequest.of(2, 3);
  }

  /**
   * Patterns alike: Spring Data puts the wildcards into the value, we show them in the text.
   *
   * @param shape of a statement
   */
  static String comparable(String shape) {
    return shape
        .replaceAll("(not )?like [^\\[\\]]*? of \\[", "$1like of [")
        .replaceAll(" escape '\\\\\\\\?'", "");
  }
}
