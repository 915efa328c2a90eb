package dev.colonnade.harbour;

import java.util.List;
import java.util.Optional;
import org.springframework.data.jpa.repository.JpaRepository;
import org.springframework.data.jpa.repository.NativeQuery;
import org.springframework.data.jpa.repository.Query;
import org.springframework.data.repository.query.Param;

/** Vessels by number, and the clerk's search. */
public interface VesselRepository extends JpaRepository<Vessel, Long> {

  @Query(value = "select * from vessel where imo_number = :imoNumber", nativeQuery = true)
  Optional<Vessel> withImoNumber(@Param("imoNumber") String imoNumber);

  /** The name as typed, in whatever case. */
  @NativeQuery("select * from vessel where lower(name) = lower(:name)")
  List<Vessel> named(@Param("name") String name);

  /** The fleet of a shipping line, whose name stands somewhere in the owner's. */
  @NativeQuery("select * from vessel where owner like '%' || :line || '%' order by name")
  List<Vessel> fleetOf(@Param("line") String line);

  List<Vessel> findByFlagOrderByName(String flag);
}
