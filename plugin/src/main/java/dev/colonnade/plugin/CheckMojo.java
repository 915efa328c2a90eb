package dev.colonnade.plugin;

import org.apache.maven.plugin.AbstractMojo;
import org.apache.maven.plugins.annotations.LifecyclePhase;
import org.apache.maven.plugins.annotations.Mojo;

/**
 * Reads changelogs and queries, works out every access path, applies the rules, writes the reports
 * and fails, warns or passes the build.
 */
@Mojo(name = "check", defaultPhase = LifecyclePhase.VERIFY, threadSafe = true)
public final class CheckMojo extends AbstractMojo {

  /** Does nothing yet. */
  @Override
  public void execute() {}
}
