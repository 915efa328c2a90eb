package dev.colonnade.report;

import java.io.IOException;
import java.nio.charset.StandardCharsets;
import java.nio.file.AtomicMoveNotSupportedException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.nio.file.StandardCopyOption;
import java.util.ArrayList;
import java.util.List;
import java.util.Map;
import java.util.TreeMap;

/**
 * Writes the reports: all of them, or none. Every file is written beside its target under another
 * name and put in its place only when all are complete; when that fails half-way, the files that
 * were there before are put back.
 */
public final class ReportFiles {
  /** Findings for code hosts and editors. */
  public static final String SARIF = "findings.sarif";

  /** Findings for a pull request. */
  public static final String MARKDOWN = "findings.md";

  /** Schema, coverage and every index against every query. */
  public static final String ACCESS_PATHS = "access-paths.json";

  private ReportFiles() {}

  /**
   * Writes every report.
   *
   * @return the files, sorted by name
   * @throws IOException when one cannot be written; the directory then holds what it held before
   */
  public static List<Path> write(Report report, Path directory) throws IOException {
    Map<String, String> contents = new TreeMap<>();
    contents.put(SARIF, SarifReport.write(report));
    contents.put(MARKDOWN, MarkdownReport.write(report));
    contents.put(ACCESS_PATHS, AccessPathsJson.write(report));
    return writeAll(contents, directory);
  }

  /** Writes texts as UTF-8 under their names: all of them, or none. */
  static List<Path> writeAll(Map<String, String> contents, Path directory) throws IOException {
    Files.createDirectories(directory);
    List<Replacement> replacements = new ArrayList<>();
    List<Path> targets = new ArrayList<>();
    try {
      for (Map.Entry<String, String> entry : new TreeMap<>(contents).entrySet()) {
        Replacement replacement = new Replacement(directory.resolve(entry.getKey()));
        replacements.add(replacement);
        replacement.prepare(entry.getValue());
        targets.add(replacement.target);
      }
      for (Replacement replacement : replacements) {
        replacement.put();
      }
    } catch (IOException e) {
      for (Replacement replacement : replacements) {
        replacement.undo(e);
      }
      throw e;
    } finally {
      for (Replacement replacement : replacements) {
        replacement.clean();
      }
    }
    return targets;
  }

  private static void move(Path from, Path to) throws IOException {
    try {
      Files.move(from, to, StandardCopyOption.ATOMIC_MOVE);
    } catch (AtomicMoveNotSupportedException e) {
      Files.move(from, to, StandardCopyOption.REPLACE_EXISTING);
    }
  }

  /** One file on its way to its place. */
  private static final class Replacement {
    private final Path target;
    private final Path written;
    private final Path before;
    private boolean put;

    Replacement(Path target) {
      this.target = target;
      this.written = target.resolveSibling("." + target.getFileName() + ".new");
      this.before = target.resolveSibling("." + target.getFileName() + ".old");
    }

    void prepare(String text) throws IOException {
      Files.write(written, text.getBytes(StandardCharsets.UTF_8));
      if (Files.isRegularFile(target)) {
        Files.copy(target, before, StandardCopyOption.REPLACE_EXISTING);
      }
    }

    void put() throws IOException {
      move(written, target);
      put = true;
    }

    void undo(IOException reason) {
      if (!put) {
        return;
      }
      try {
        if (Files.exists(before)) {
          move(before, target);
        } else {
          Files.deleteIfExists(target);
        }
      } catch (IOException e) {
        reason.addSuppressed(e);
      }
    }

    void clean() throws IOException {
      Files.deleteIfExists(written);
      Files.deleteIfExists(before);
    }
  }
}
