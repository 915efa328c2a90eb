package dev.colonnade.classfile;

import java.util.Set;
import org.objectweb.asm.tree.MethodInsnNode;

/** What methods of the object whose method is read do with texts. */
interface OwnMethods {
  /** Nothing is known. */
  OwnMethods UNKNOWN =
      new OwnMethods() {
        @Override
        public Set<String> givenBack(MethodInsnNode call) {
          return Set.of();
        }

        @Override
        public Set<String> appended(MethodInsnNode call, int argument) {
          return Set.of();
        }

        @Override
        public boolean buildsStatements(String className) {
          return false;
        }

        @Override
        public Set<String> constructed(MethodInsnNode call) {
          return Set.of();
        }
      };

  /** The texts that a call gives back; none where that is not known. */
  Set<String> givenBack(MethodInsnNode call);

  /**
   * The texts that a call appends to the builder that it is given; none where that is not known, or
   * it does something else with the builder.
   *
   * @param argument the builder's place among the arguments, counted from 0
   */
  Set<String> appended(MethodInsnNode call, int argument);

  /**
   * True where a class of the service extends a builder of statements.
   *
   * @param className its internal name
   */
  boolean buildsStatements(String className);

  /** What a constructor of such a class tells the builder; none where that is not known. */
  Set<String> constructed(MethodInsnNode call);
}
