package dev.colonnade.classfile;

import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.OptionalInt;
import java.util.Set;

/**
 * A call in the body of a method; or a lambda made there, as a call of its body with what it
 * captures.
 *
 * @param caller binary name of the class whose method calls
 * @param callerMethod the calling method; for a lambda the method around it
 * @param callerBody name of the calling method itself in the class file, which a lambda has, too
 * @param callerDescriptor descriptor of the calling method itself
 * @param callee what is called
 * @param sourceFile simple name of the file that the class was compiled from, if the class tells
 * @param line line of the call in the source; empty where the class was compiled without lines
 * @param arguments what is known of each argument, the receiver left out
 * @param followedBy names of methods called on the call's result, as far as it keeps its type
 * @param defined the texts that the result is told to put in the place of a name; none where they
 *     are not known
 */
public record MethodCall(
    String caller,
    String callerMethod,
    String callerBody,
    String callerDescriptor,
    Callee callee,
    Optional<String> sourceFile,
    OptionalInt line,
    List<CallArgument> arguments,
    Set<String> followedBy,
    Map<String, Set<String>> defined) {

  /** Copies the collections. */
  public MethodCall {
    arguments = List.copyOf(arguments);
    followedBy = Set.copyOf(followedBy);
    defined = Map.copyOf(defined);
  }

  /**
   * The method that is called.
   *
   * @param owner binary name of the class that the call names: the static type of the receiver
   * @param name the method's name
   * @param descriptor its parameter and return types as class files write them
   */
  public record Callee(String owner, String name, String descriptor) {}
}
