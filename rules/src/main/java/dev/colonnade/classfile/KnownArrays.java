package dev.colonnade.classfile;

import dev.colonnade.classfile.ConstantText.Kind;
import java.util.ArrayList;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.Set;
import java.util.TreeMap;
import org.objectweb.asm.Type;
import org.objectweb.asm.tree.AbstractInsnNode;
import org.objectweb.asm.tree.analysis.BasicValue;

/** The arrays that a method makes, with the values put into them. */
final class KnownArrays {
  private static final Type TEXT = Type.getType(String.class);
  private static final Type ARRAY = Type.getObjectType("[Ljava/lang/Object;");

  private final Map<Object, Map<Integer, BasicValue>> arrays = new HashMap<>();

  /** A new array; how many elements it has is known where the code says a number. */
  ConstantText made(AbstractInsnNode instruction, BasicValue size) {
    arrays.put(instruction, new TreeMap<>());
    List<Integer> number = TextValues.numbers(List.of(size));
    return new ConstantText(
        ARRAY,
        Kind.ARRAY,
        number.isEmpty() ? Set.of() : Set.of(String.valueOf(number.get(0))),
        instruction);
  }

  void put(BasicValue array, BasicValue index, BasicValue value) {
    Map<Integer, BasicValue> elements = arrays.get(identity(array));
    if (elements != null && index instanceof ConstantText number && number.single() != null) {
      elements.put(Integer.valueOf(number.single()), value);
    }
  }

  boolean contains(BasicValue array) {
    return arrays.containsKey(identity(array));
  }

  /** The elements, with the open part for one that is not known; none of an unknown array. */
  List<String> elements(BasicValue array) {
    List<String> result = new ArrayList<>();
    for (BasicValue element : arrays.getOrDefault(identity(array), Map.of()).values()) {
      Set<String> texts = TextValues.known(element, TEXT);
      result.add(texts.size() == 1 ? texts.iterator().next() : ConstantTexts.OPEN_PART);
    }
    return result;
  }

  private static Object identity(BasicValue value) {
    return value instanceof ConstantText known ? known.identity() : null;
  }
}
