package dev.colonnade.query.jpql.basin;

import java.util.List;
import java.util.Optional;
import org.springframework.data.jpa.repository.JpaRepository;
import org.springframework.data.jpa.repository.Query;

/** Slots, which an id class tells apart. */
public interface SlotRepository extends JpaRepository<Slot, SlotId> {
  List<Slot> findByBasinId(Long id);

  Optional<Slot> findByBasinCodeAndNumber(String code, int number);

  List<Slot> findByKeeperSinceLessThan(int year);

  long countByBasin(Basin basin);

  void deleteByBasinIdAndNumberGreaterThan(Long id, int number);

  @Query("select s from Slot s where s.basin = :basin order by s.number")
  List<Slot> of(Basin basin);

  @Query("select count(s), s.basin from Slot s group by s.basin")
  List<Object[]> perBasin();
}
