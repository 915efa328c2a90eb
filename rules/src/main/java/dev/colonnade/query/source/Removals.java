package dev.colonnade.query.source;

import dev.colonnade.classfile.CallArgument;
import dev.colonnade.classfile.ClassFiles;
import dev.colonnade.classfile.ClassFiles.ClassFile;
import dev.colonnade.classfile.MethodCall;
import dev.colonnade.classfile.MethodCall.Callee;
import java.io.IOException;
import java.util.ArrayList;
import java.util.List;
import java.util.Set;

/**
 * Finds out of which entities rows are deleted one by one in method bodies: what is given to {@code
 * EntityManager.remove} and its kin (Jakarta Persistence 3.2, section 3.2.3; Javadoc of Hibernate's
 * sessions), and what Panache deletes.
 */
final class Removals {
  private static final Set<String> METHODS = Set.of("remove", "delete");
  private static final Set<String> PARAMETERS =
      Set.of("(Ljava/lang/Object;)", "(Ljava/lang/String;Ljava/lang/Object;)");

  private final ClassFiles classes;
  private final EntityQueries entities;
  private final PanacheCalls panache;

  Removals(ClassFiles classes, EntityQueries entities) {
    this.classes = classes;
    this.entities = entities;
    this.panache =
        new PanacheCalls(
            classes, new Forwarders(classes), entities, new QueryIds(), new ArrayList<>());
  }

  /** Notes the entities; an object of which the compiler knew no class tells none. */
  void note() {
    for (ClassFile file : classes.all()) {
      calls(file).forEach(this::note);
    }
  }

  /** None in a file that cannot be read: whoever looks for queries in the same bodies says so. */
  private List<MethodCall> calls(ClassFile file) {
    try {
      return classes.calls(file, this::isRemoval);
    } catch (IOException e) {
      return List.of();
    }
  }

  private boolean isRemoval(Callee callee) {
    return isOfSession(callee) || panache.isRowDeleted(callee);
  }

  private static boolean isOfSession(Callee callee) {
    String parameters = callee.descriptor().substring(0, callee.descriptor().indexOf(')') + 1);
    return METHODS.contains(callee.name())
        && PARAMETERS.contains(parameters)
        && QueryMethods.isSession(callee.owner());
  }

  private void note(MethodCall call) {
    if (isOfSession(call.callee())) {
      List<CallArgument> given = call.arguments();
      given.get(given.size() - 1).type().flatMap(entities::entity).ifPresent(entities::deletes);
    } else {
      panache.entities(call.callee()).forEach(entities::deletes);
    }
  }
}
