package dev.colonnade.harbour;

import java.util.Optional;
import org.springframework.data.jpa.repository.JpaRepository;

/** Pilots by licence. */
public interface PilotRepository extends JpaRepository<Pilot, Long> {

  Optional<Pilot> findByLicence(String licence);
}
