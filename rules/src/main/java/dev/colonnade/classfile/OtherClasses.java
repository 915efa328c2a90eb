package dev.colonnade.classfile;

import java.util.List;
import java.util.Optional;

/** What the other classes of a service tell of one; names are binary. */
interface OtherClasses {
  /** The constant text of a static field. */
  Optional<String> text(String className, String field);

  /** The class file of a class of the service. */
  Optional<byte[]> file(String className);

  /** The class files of all classes of the service that extend a class, however far away. */
  List<byte[]> below(String className);
}
