package dev.colonnade.query.jpql.port;

import jakarta.data.repository.Delete;
import jakarta.data.repository.Find;
import jakarta.data.repository.Insert;
import jakarta.data.repository.Query;
import jakarta.data.repository.Repository;
import java.util.List;

/** Pilots, in a repository that says nowhere what it is for but in its methods. */
@Repository
public interface Crews {
  @Insert
  void add(Pilot pilot);

  @Delete
  void drop(Pilot pilot);

  @Find
  List<Pilot> licensed(String licence);

  @Query("order by name")
  List<Pilot> all();
}
