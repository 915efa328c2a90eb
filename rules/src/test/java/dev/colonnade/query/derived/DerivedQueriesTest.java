package dev.colonnade.query.derived;

import static org.assertj.core.api.Assertions.assertThat;

import dev.colonnade.classfile.ClassFiles;
import dev.colonnade.mapping.Mapping;
import dev.colonnade.mapping.NamingStrategy;
import dev.colonnade.mapping.source.MappingReader;
import dev.colonnade.query.jpql.JpqlResult;
import dev.colonnade.query.jpql.JpqlTranslator;
import dev.colonnade.query.jpql.port.Vessel;
import dev.colonnade.schema.Schema;
import java.net.URISyntaxException;
import java.nio.file.Path;
import java.util.List;
import java.util.Optional;
import org.junit.jupiter.api.BeforeAll;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

/** Names by the keywords of Spring Data Commons' reference, "Repository query keywords". */
final class DerivedQueriesTest {
  private static Mapping mapping;

  @BeforeAll
  static void readMapping() throws URISyntaxException {
    Path classes =
        Path.of(Vessel.class.getProtectionDomain().getCodeSource().getLocation().toURI());
    Path port = classes.resolve(Vessel.class.getPackageName().replace('.', '/'));
    mapping =
        new MappingReader(ClassFiles.read(classes, port), Schema.EMPTY)
            .read(NamingStrategy.JPA)
            .mapping();
  }

  private static DerivedResult read(String entity, String name, boolean pageable) {
    return new DerivedQueries(mapping)
        .read(
            new MethodSignature(name, 9, pageable, List.of()),
            mapping.entity(entity).orElseThrow());
  }

  @ParameterizedTest
  @CsvSource(
      delimiter = '|',
      quoteCharacter = '`',
      textBlock =
          """
          findByReference                   | select e from Booking e where e.reference = ?1
          getByReferenceIs                  | select e from Booking e where e.reference = ?1
          readByReferenceNot                | select e from Booking e where e.reference <> ?1
          findByArrivalBetweenAndPaidTrue   | select e from Booking e where e.arrival between ?1 and ?2 and e.paid = true
          findByPaidFalseOrCargoTonsIsNull  | select e from Booking e where e.paid = false or e.cargoTons is null
          findByArrivalBefore               | select e from Booking e where e.arrival < ?1
          findByCargoTonsGreaterThanEqual   | select e from Booking e where e.cargoTons >= ?1
          findByReferenceStartingWith       | select e from Booking e where e.reference like concat(?1, '%')
          findByReferenceContainsIgnoreCase | select e from Booking e where upper(e.reference) like concat('%', upper(?1), '%')
          findByStatusNotIn                 | select e from Booking e where e.status not in ?1
          findByVesselId                    | select e from Booking e where e.vessel.id = ?1
          findByVessel_Name                 | select e from Booking e join e.vessel j1 where j1.name = ?1
          findByVesselOwnerName             | select e from Booking e join e.vessel j1 left join j1.owner j2 where j2.name = ?1
          findByBerthIdQuay                 | select e from Booking e where e.berth.id.quay = ?1
          findByNotesIsEmpty                | select e from Booking e where e.notes is empty
          findByPilotsContaining            | select e from Booking e where ?1 member of e.pilots
          findByPilotsName                  | select e from Booking e left join e.pilots j1 where j1.name = ?1
          findTop3ByPaidOrderByArrivalDesc  | select e from Booking e where e.paid = ?1 order by e.arrival desc limit 3
          findFirstByOrderByArrivalAscIdDesc| select e from Booking e order by e.arrival, e.id desc limit 1
          findDistinctByPaid                | select distinct e from Booking e where e.paid = ?1
          countByStatus                     | select count(e) from Booking e where e.status = ?1
          existsByReference                 | select id(e) from Booking e where e.reference = ?1 limit 1
          deleteByReference                 | select e from Booking e where e.reference = ?1
          streamAllByReferenceAndStatusAllIgnoreCase | select e from Booking e where upper(e.reference) = upper(?1) and e.status = ?2
          """)
  void names_become_queries_that_translate(String name, String jpql) {
    DerivedResult result = read("Booking", name, false);
    assertThat(result).isInstanceOf(DerivedResult.Understood.class);
    assertThat(((DerivedResult.Understood) result).jpql()).isEqualTo(jpql);
    assertThat(new JpqlTranslator(mapping, "postgresql").translate(jpql))
        .isInstanceOf(JpqlResult.Translated.class);
  }

  @Test
  void a_page_has_an_unknown_size_and_its_rows_are_counted() {
    assertThat(read("Vessel", "findByFlag", true))
        .isEqualTo(
            new DerivedResult.Understood(
                "select e from Vessel e where e.flag = ?1 limit :pageSize offset :pageOffset",
                "select count(e) from Vessel e where e.flag = ?1",
                Optional.empty(),
                false,
                " from Vessel e where e.flag = ?1"));
  }

  @Test
  void a_name_that_is_no_attribute_is_said_to_be_none() {
    assertThat(read("Vessel", "findByColour", false))
        .isEqualTo(
            new DerivedResult.NotUnderstood("Vessel has no attribute that Colour stands for"));
  }
}
