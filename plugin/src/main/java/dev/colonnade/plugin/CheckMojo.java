package dev.colonnade.plugin;

import org.apache.maven.plugins.annotations.LifecyclePhase;
import org.apache.maven.plugins.annotations.Mojo;
import org.apache.maven.plugins.annotations.ResolutionScope;

/**
 * Reads changelogs and queries, works out every access path, applies the rules, writes the files
 * and fails, warns or passes the build.
 */
@Mojo(
    name = "check",
    defaultPhase = LifecyclePhase.VERIFY,
    requiresDependencyResolution = ResolutionScope.RUNTIME,
    threadSafe = true)
public final class CheckMojo extends AbstractColonnadeMojo {
  @Override
  void run(Gathered input) {}
}
