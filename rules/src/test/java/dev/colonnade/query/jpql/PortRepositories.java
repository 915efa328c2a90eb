package dev.colonnade.query.jpql;

import jakarta.persistence.Entity;
import jakarta.persistence.EntityManager;
import java.lang.reflect.InvocationTargetException;
import java.lang.reflect.Method;
import java.lang.reflect.ParameterizedType;
import java.lang.reflect.Type;
import java.math.BigDecimal;
import java.time.LocalDateTime;
import java.util.Arrays;
import java.util.Collection;
import java.util.List;
import java.util.stream.Stream;
import org.springframework.data.domain.Limit;
import org.springframework.data.domain.PageRequest;
import org.springframework.data.domain.Pageable;
import org.springframework.data.domain.Sort;
import org.springframework.data.jpa.repository.support.JpaRepositoryFactory;
import org.springframework.transaction.support.TransactionSynchronizationManager;

/** Spring Data's own repositories over the port's database, which holds no row. */
final class PortRepositories {
  private final PortDatabase database;

  PortRepositories(PortDatabase database) {
    this.database = database;
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
          Object proxy = new JpaRepositoryFactory(entities).getRepository(repository);
          Object[] arguments =
              Arrays.stream(method.getGenericParameterTypes())
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
  private static Object argument(Type type, EntityManager entities) {
    if (type instanceof ParameterizedType parameterized
        && Collection.class.isAssignableFrom((Class<?>) parameterized.getRawType())) {
      return List.of(argument(parameterized.getActualTypeArguments()[0], entities));
    }
    Class<?> raw = (Class<?>) type;
    if (raw.isAnnotationPresent(Entity.class)) {
      return entities.getReference(raw, 1L);
    }
    if (raw.isEnum()) {
      return raw.getEnumConstants()[0];
    }
    return switch (raw.getSimpleName()) {
      case "String" -> "x";
      case "boolean" -> true;
      case "int", "Integer" -> 1;
      case "Long" -> 1L;
      case "double" -> 1.0;
      case "BigDecimal" -> BigDecimal.ONE;
      case "LocalDateTime" -> LocalDateTime.of(2026, 3, 1, 12, 0);
      case "Pageable" -> pageable();
      case "Sort" -> Sort.unsorted();
      case "Limit" -> Limit.of(5);
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
