package dev.colonnade.query.source;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.tuple;

import dev.colonnade.location.SourceLocation;
import dev.colonnade.query.QuerySource;
import dev.colonnade.query.QueryText;
import dev.colonnade.query.UnanalysedQuery;
import java.nio.file.Path;
import java.util.List;
import java.util.Optional;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

final class RepositoryScannerTest {
  private static final String BOOKING =
      """
      package port;
      import jakarta.persistence.*;
      @Entity @Table(name = "booking_t") public class Booking {}
      """;

  @TempDir Path base;

  @Test
  void native_queries_of_every_annotation_are_found() {
    FoundQueries found =
        CompiledService.of(
                base,
                BOOKING,
                """
                package port;
                public interface Bookings extends org.springframework.data.jpa.repository.JpaRepository<Booking, Long> {
                  @org.springframework.data.jpa.repository.Query(value = "select 1 from booking", nativeQuery = true)
                  int one();
                  @org.springframework.data.jpa.repository.NativeQuery(value = "select 2 from booking", countQuery = "select count(*) from booking")
                  int two();
                  @org.springframework.data.jdbc.repository.query.Query("select 3 from booking")
                  int three();
                  @org.springframework.data.r2dbc.repository.Query("select 4 from booking")
                  int four();
                }
                """)
            .scan();

    assertThat(found.queries())
        .extracting(QueryText::id, QueryText::sql)
        .containsExactly(
            tuple("port.Bookings.four", "select 4 from booking"),
            tuple("port.Bookings.one", "select 1 from booking"),
            tuple("port.Bookings.three", "select 3 from booking"),
            tuple("port.Bookings.two", "select 2 from booking"),
            tuple("port.Bookings.two#count", "select count(*) from booking"));
    assertThat(found.queries())
        .allMatch(query -> query.source() == QuerySource.ANNOTATION)
        .allMatch(query -> query.text().equals(query.sql()));
    assertThat(found.unanalysed()).isEmpty();
    assertThat(found.total()).isEqualTo(5);
  }

  @Test
  void place_is_file_line_and_column_of_the_annotation() {
    FoundQueries found =
        CompiledService.of(
                base,
                """
                package port;
                import org.springframework.data.r2dbc.repository.Query;
                public interface Tides {
                  /** When the water is high. */
                  @Deprecated
                    @Query("select * from tide")
                  int all();
                }
                """)
            .scan();

    assertThat(found.queries())
        .extracting(QueryText::location)
        .containsExactly(
            new SourceLocation("src/main/java/port/Tides.java", 6, 5, Optional.empty()));
  }

  @Test
  void constants_concatenations_and_text_blocks_arrive_whole() {
    FoundQueries found =
        CompiledService.of(
                base,
                """
                package port;
                import org.springframework.data.r2dbc.repository.Query;
                public interface Tides {
                  String TABLE = "tide";
                  String WHERE = " where " + Names.PORT + " = ?";
                  interface Names { String PORT = "port_id"; }
                  @Query("select * from " + TABLE + WHERE)
                  int constants();
                  @Query(\"""
                      select *
                        from tide
                      \""")
                  int block();
                }
                """)
            .scan();

    assertThat(found.queries())
        .extracting(QueryText::sql)
        .containsExactly("select *\n  from tide\n", "select * from tide where port_id = ?");
    assertThat(found.queries())
        .extracting(QueryText::location)
        .extracting(SourceLocation::line)
        .containsExactly(9, 7);
  }

  @Test
  void line_of_the_text_is_known_where_text_and_source_have_the_same_lines() {
    FoundQueries found =
        CompiledService.of(
                base,
                """
                package port;
                import org.springframework.data.jpa.repository.*;
                public interface Tides {
                  @NativeQuery(
                      value = \"""
                          select *
                          from tide\""",
                      countQuery = "select count(*) from tide")
                  int block();
                  @NativeQuery(\"""
                      select * \\
                      from tide\""")
                  int joinedLines();
                  @NativeQuery("select * " + "from tide")
                  int parts();
                }
                """)
            .scan();

    assertThat(found.queries())
        .extracting(
            QueryText::id, query -> query.location().line(), query -> query.lineOfText(2).line())
        .containsExactly(
            tuple("port.Tides.block", 4, 7),
            tuple("port.Tides.block#count", 4, 9),
            tuple("port.Tides.joinedLines", 10, 10),
            tuple("port.Tides.parts", 14, 14));
  }

  @Test
  void nested_types_and_overloaded_methods_have_ids_and_places_of_their_own() {
    FoundQueries found =
        CompiledService.of(
                base,
                """
                package port;
                import org.springframework.data.r2dbc.repository.Query;
                import java.util.List;
                class Holder {
                  interface Inner {
                    @Query("select 'string' from tide")
                    int get(List<String> port, String... name);
                    @Query("select 'long' from tide")
                    int get(long port, String[] name);
                    int get(long port);
                  }
                }
                """)
            .scan();

    assertThat(found.queries())
        .extracting(QueryText::id, QueryText::sql, query -> query.location().line())
        .containsExactly(
            tuple("port.Holder.Inner.get", "select 'string' from tide", 6),
            tuple("port.Holder.Inner.get~2", "select 'long' from tide", 8));
  }

  @Test
  void what_is_not_sql_is_listed_with_its_reason() {
    FoundQueries found =
        CompiledService.of(
                base,
                """
                package port;
                import jakarta.persistence.*;
                @Entity
                @NamedQuery(name = "Booking.open", query = "select b from Booking b")
                @NamedQuery(name = "late", query = "select b from Booking b")
                @NamedNativeQuery(
                    name = "Booking.raw",
                    query = "select * from booking")
                public class Booking {}
                """,
                """
                package port;
                import org.springframework.data.jpa.repository.*;
                import java.util.List;
                public interface Bookings extends Base<Booking> {
                  @Query("select b from Booking b")
                  List<Booking> jpql();
                  @Query(name = "elsewhere")
                  List<Booking> named();
                  List<Booking> findAllByBerthOrderByArrivalDesc(long berth);
                  long countBy();
                  default Booking findFirstBy() { return null; }
                  static Booking getBy() { return null; }
                  List<Booking> finder();
                }
                """,
                """
                package port;
                public interface Base<T> extends org.springframework.data.repository.CrudRepository<T, Long> {}
                """,
                """
                package port;
                public interface NoRepository { int findBy(); }
                """)
            .scan();

    assertThat(found.unanalysed())
        .extracting(UnanalysedQuery::id, it -> it.location().toString(), UnanalysedQuery::reason)
        .containsExactly(
            tuple(
                "port.Booking#late",
                "src/main/java/port/Booking.java:5",
                "JPQL is not analysed yet"),
            tuple(
                "port.Booking#open",
                "src/main/java/port/Booking.java:4",
                "JPQL is not analysed yet"),
            tuple(
                "port.Bookings.countBy",
                "src/main/java/port/Bookings.java:10",
                "derived query methods are not analysed yet"),
            tuple(
                "port.Bookings.findAllByBerthOrderByArrivalDesc",
                "src/main/java/port/Bookings.java:9",
                "derived query methods are not analysed yet"),
            tuple(
                "port.Bookings.finder",
                "src/main/java/port/Bookings.java:13",
                "derived query methods are not analysed yet"),
            tuple(
                "port.Bookings.jpql",
                "src/main/java/port/Bookings.java:5",
                "JPQL is not analysed yet"),
            tuple(
                "port.Bookings.named",
                "src/main/java/port/Bookings.java:7",
                "the annotation holds no text"));
    assertThat(found.queries())
        .extracting(QueryText::id, QueryText::sql, query -> query.location().line())
        .containsExactly(tuple("port.Booking#raw", "select * from booking", 6));
  }

  @Test
  void configured_annotation_joins_the_lines_of_its_array() {
    CompiledService service =
        CompiledService.of(
            base,
            """
            package port;
            import org.example.sql.Statement;
            public interface Tides {
              @Statement(lines = {"select *", "from tide"})
              int joined();
              @Statement(lines = "select 1 from tide")
              @Statement(lines = "select 2 from tide")
              int repeated();
            }
            """);

    assertThat(service.scan().total()).isZero();
    assertThat(service.scan(QueryAnnotation.of("org.example.sql.Statement", "lines")).queries())
        .extracting(QueryText::id, QueryText::sql)
        .containsExactly(
            tuple("port.Tides.joined", "select * from tide"),
            tuple("port.Tides.repeated", "select 1 from tide"),
            tuple("port.Tides.repeated#2", "select 2 from tide"));
    assertThat(
            service.scan(new QueryAnnotation("org.example.sql.Statement", "lines", true)).queries())
        .extracting(QueryText::id, QueryText::sql)
        .contains(
            tuple("port.Tides.joined", "select *"), tuple("port.Tides.joined#2", "from tide"));
  }

  @Test
  void annotations_of_the_service_that_stand_for_a_query_are_followed() {
    FoundQueries found =
        CompiledService.of(
                base,
                """
                package port;
                import java.lang.annotation.*;
                import org.springframework.core.annotation.AliasFor;
                import org.springframework.data.jpa.repository.Query;
                @Retention(RetentionPolicy.RUNTIME)
                @Query(nativeQuery = true)
                public @interface Sql {
                  @AliasFor(annotation = Query.class, attribute = "value")
                  String text() default "select 1 from tide";
                }
                """,
                """
                package port;
                public interface Tides {
                  @Sql(text = "select 2 from tide")
                  int given();
                  @Sql
                  int standard();
                }
                """)
            .scan();

    assertThat(found.queries())
        .extracting(QueryText::id, QueryText::sql)
        .containsExactly(
            tuple("port.Tides.given", "select 2 from tide"),
            tuple("port.Tides.standard", "select 1 from tide"));
  }

  @Test
  void entity_name_is_put_in_as_spring_data_does() {
    FoundQueries found =
        CompiledService.of(
                base,
                BOOKING,
                """
                package port;
                @jakarta.persistence.Entity(name = "berth_entity") public class Berth {}
                """,
                """
                package port;
                import org.springframework.data.jpa.repository.*;
                public interface Generic<I, T> extends JpaRepository<T, I> {
                  @NativeQuery("select 1 from #{#entityName}")
                  int everywhere();
                }
                """,
                """
                package port;
                import org.springframework.data.jpa.repository.*;
                public interface Bookings extends Generic<Long, Booking> {
                  @NativeQuery("select 2 from #{ #entityName } where id = :#{#id}")
                  int bookings();
                  @NativeQuery("select 2 from #{#somethingElse}")
                  int other();
                }
                """,
                """
                package port;
                import org.springframework.data.jpa.repository.*;
                public interface Berths extends JpaRepository<Berth, Long> {
                  @NativeQuery("select 3 from #{#entityName}")
                  int berths();
                }
                """)
            .scan();

    assertThat(found.queries())
        .extracting(QueryText::id, QueryText::sql)
        .containsExactly(
            tuple("port.Berths.berths", "select 3 from berth_entity"),
            tuple("port.Bookings.bookings", "select 2 from Booking where id = :#{#id}"));
    assertThat(found.queries().get(0).text()).isEqualTo("select 3 from #{#entityName}");
    assertThat(found.unanalysed())
        .extracting(UnanalysedQuery::id, UnanalysedQuery::reason)
        .containsExactly(
            tuple(
                "port.Bookings.other", "what stands for #{#somethingElse} in the SQL is not known"),
            tuple(
                "port.Generic.everywhere",
                "what stands for #{#entityName} in the SQL is not known"));
  }

  @Test
  void bridge_methods_do_not_repeat_a_query() {
    FoundQueries found =
        CompiledService.of(
                base,
                """
                package port;
                public interface General { Object all(); }
                """,
                """
                package port;
                import org.springframework.data.r2dbc.repository.Query;
                public abstract class Special implements General {
                  @Query("select * from tide")
                  @Override public String all() { return null; }
                }
                """)
            .scan();

    assertThat(found.queries()).extracting(QueryText::id).containsExactly("port.Special.all");
  }

  @Test
  void directory_that_is_not_there_has_no_queries() {
    assertThat(
            new RepositoryScanner(base, base.resolve("target/classes"), List.of(), List.of())
                .scan())
        .isEqualTo(FoundQueries.NONE);
  }
}
