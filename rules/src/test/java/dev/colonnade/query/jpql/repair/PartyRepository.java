package dev.colonnade.query.jpql.repair;

import java.util.Collection;
import java.util.List;
import org.springframework.data.jpa.repository.Query;

/** Everybody. */
public interface PartyRepository extends AuditedRepository<Party> {
  List<Party> findByNameStartingWithOrEmailStartingWith(String name, String email);

  @Query("select p from Party p where type(p) = Supplier and p.isActive = true")
  List<Party> suppliers();

  @Query("select p from Party p where type(p) in :kinds")
  List<Party> ofKinds(Collection<Class<? extends Party>> kinds);

  @Query("select p from Party p where treat(p as Supplier).leadDays < ?1 or p.name like 'A%'")
  List<Party> quick(int days);
}
