package dev.colonnade.query.jpql;

import dev.colonnade.query.jpql.jetty.VesselRepository;
import io.r2dbc.h2.H2ConnectionConfiguration;
import io.r2dbc.h2.H2ConnectionFactory;
import io.r2dbc.spi.Connection;
import io.r2dbc.spi.ConnectionFactory;
import java.lang.reflect.InvocationHandler;
import java.lang.reflect.InvocationTargetException;
import java.lang.reflect.Method;
import java.lang.reflect.Proxy;
import java.math.BigDecimal;
import java.sql.Statement;
import java.time.LocalDate;
import java.time.LocalDateTime;
import java.util.ArrayList;
import java.util.Collection;
import java.util.List;
import java.util.Set;
import java.util.stream.IntStream;
import java.util.stream.Stream;
import javax.sql.DataSource;
import org.reactivestreams.Publisher;
import org.springframework.context.annotation.AnnotationConfigApplicationContext;
import org.springframework.context.annotation.Bean;
import org.springframework.context.annotation.ComponentScan;
import org.springframework.context.annotation.Configuration;
import org.springframework.context.annotation.FilterType;
import org.springframework.core.ResolvableType;
import org.springframework.data.domain.Limit;
import org.springframework.data.domain.PageRequest;
import org.springframework.data.domain.Sort;
import org.springframework.data.jdbc.core.mapping.AggregateReference;
import org.springframework.data.jdbc.repository.config.AbstractJdbcConfiguration;
import org.springframework.data.jdbc.repository.config.EnableJdbcRepositories;
import org.springframework.data.r2dbc.core.R2dbcEntityTemplate;
import org.springframework.data.r2dbc.dialect.H2Dialect;
import org.springframework.data.r2dbc.repository.support.R2dbcRepositoryFactory;
import org.springframework.data.repository.reactive.ReactiveCrudRepository;
import org.springframework.jdbc.core.namedparam.NamedParameterJdbcOperations;
import org.springframework.jdbc.core.namedparam.NamedParameterJdbcTemplate;
import org.springframework.jdbc.datasource.DriverManagerDataSource;
import org.springframework.jdbc.support.JdbcTransactionManager;
import org.springframework.r2dbc.core.DatabaseClient;
import org.springframework.transaction.TransactionManager;
import reactor.core.publisher.Flux;
import reactor.core.publisher.Mono;

/** Spring Data's own repositories over the jetty's database, and the SQL that they send. */
final class JettyRepositories implements AutoCloseable {
  private static final List<String> SENT = new ArrayList<>();
  private static final Set<String> WITH_TEXT =
      Set.of("prepareStatement", "createStatement", "execute", "executeQuery", "executeUpdate");

  private final AnnotationConfigApplicationContext context =
      new AnnotationConfigApplicationContext(Jdbc.class);
  private final R2dbcRepositoryFactory reactive =
      new R2dbcRepositoryFactory(
          new R2dbcEntityTemplate(DatabaseClient.create(listening()), H2Dialect.INSTANCE));

  /** Spring Data JDBC as a service sets it up. */
  @Configuration(proxyBeanMethods = false)
  @EnableJdbcRepositories(
      basePackageClasses = VesselRepository.class,
      excludeFilters =
          @ComponentScan.Filter(
              type = FilterType.ASSIGNABLE_TYPE,
              classes = ReactiveCrudRepository.class))
  static class Jdbc extends AbstractJdbcConfiguration {
    @Bean
    DataSource dataSource() {
      DataSource plain = new DriverManagerDataSource(JettyDatabase.URL);
      return listening(DataSource.class, plain);
    }

    @Bean
    TransactionManager transactionManager(DataSource dataSource) {
      return new JdbcTransactionManager(dataSource);
    }

    @Bean
    NamedParameterJdbcOperations jdbcOperations(DataSource dataSource) {
      return new NamedParameterJdbcTemplate(dataSource);
    }
  }

  private static ConnectionFactory listening() {
    ConnectionFactory plain =
        new H2ConnectionFactory(H2ConnectionConfiguration.builder().inMemory("jetty").build());
    return new ConnectionFactory() {
      @Override
      public Publisher<? extends Connection> create() {
        return Mono.from(plain.create()).map(it -> listening(Connection.class, it));
      }

      @Override
      public io.r2dbc.spi.ConnectionFactoryMetadata getMetadata() {
        return plain.getMetadata();
      }
    };
  }

  /**
   * Notes the texts given to an object, and to the connections and statements that it gives out.
   */
  private static <T> T listening(Class<T> type, T plain) {
    InvocationHandler handler =
        (proxy, called, arguments) -> {
          if (WITH_TEXT.contains(called.getName())
              && arguments != null
              && arguments[0] instanceof String text) {
            SENT.add(text);
          }
          try {
            Object result = called.invoke(plain, arguments);
            return result instanceof java.sql.Connection connection
                ? listening(java.sql.Connection.class, connection)
                : called.getName().equals("createStatement")
                        && result instanceof Statement statement
                    ? listening(Statement.class, statement)
                    : result;
          } catch (InvocationTargetException e) {
            throw e.getCause();
          }
        };
    return type.cast(
        Proxy.newProxyInstance(
            JettyRepositories.class.getClassLoader(), new Class<?>[] {type}, handler));
  }

  /** The repository itself. */
  <T> T repository(Class<T> type) {
    return ReactiveCrudRepository.class.isAssignableFrom(type)
        ? reactive.getRepository(type)
        : context.getBean(type);
  }

  /** The statements that are sent while something is done. */
  List<String> sentWhile(Runnable action) {
    SENT.clear();
    action.run();
    return List.copyOf(SENT);
  }

  /** The statements that a call of the method sends; those that a failure follows, too. */
  List<String> sentBy(Class<?> type, Method method) {
    Object repository = repository(type);
    Object[] arguments =
        IntStream.range(0, method.getParameterCount())
            .mapToObj(i -> argument(ResolvableType.forMethodParameter(method, i, type)))
            .toArray();
    return sentWhile(
        () -> {
          try {
            Object result = method.invoke(repository, arguments);
            if (result instanceof Mono<?> mono) {
              mono.block();
            } else if (result instanceof Flux<?> flux) {
              flux.collectList().block();
            } else if (result instanceof Stream<?> stream) {
              stream.close();
            }
          } catch (IllegalAccessException | InvocationTargetException e) {
            throw new IllegalStateException(method.toString(), e);
          }
        });
  }

  private static Object argument(ResolvableType type) {
    Class<?> raw = type.toClass();
    if (raw == AggregateReference.class) {
      return AggregateReference.to(1L);
    }
    if (Collection.class.isAssignableFrom(raw) || raw == Iterable.class) {
      return List.of(argument(type.getGeneric(0)));
    }
    if (raw.isEnum()) {
      return raw.getEnumConstants()[0];
    }
    return switch (raw.getSimpleName()) {
      case "String" -> "x";
      case "boolean", "Boolean" -> true;
      case "int", "Integer" -> 1;
      case "long", "Long" -> 1L;
      case "BigDecimal" -> BigDecimal.ONE;
      case "LocalDate" -> LocalDate.of(2026, 3, 1);
      case "LocalDateTime" -> LocalDateTime.of(2026, 3, 1, 12, 0);
      case "Pageable" -> PageRequest.of(2, 3);
      case "Sort" -> Sort.unsorted();
      case "Limit" -> Limit.of(5);
      default -> throw new IllegalArgumentException(raw.toString());
    };
  }

  @Override
  public void close() {
    context.close();
  }
}
