package dev.colonnade.query.jpql.jetty;

import java.util.List;
import org.springframework.data.domain.Limit;
import org.springframework.data.jdbc.repository.query.Modifying;
import org.springframework.data.jdbc.repository.query.Query;
import org.springframework.data.repository.query.Param;

/** Berths, one table. */
public interface BerthRepository extends CodedRepository<Berth, Long> {
  List<Berth> findByDepthInCentimetresGreaterThanEqualOrderByDepthInCentimetresAsc(int depth);

  List<Berth> findDistinctByQuay(String quay);

  List<Berth> findByQuayOrderByCode(String quay, Limit limit);

  List<BerthCode> findCodesByQuay(String quay);

  List<BerthView> findViewsByQuayAndDepthInCentimetresBetween(String quay, int from, int to);

  long countDistinctByQuay(String quay);

  void deleteByQuay(String quay);

  @Query("select * from #{#tableName} where code = :code for update")
  Berth lockByCode(@Param("code") String code);

  @Modifying
  @Query("update BERTH_PLACE set quay = :to where quay = :from")
  int rename(@Param("from") String from, @Param("to") String to);
}
