package dev.colonnade.query.source.quay;

/** A row. */
public class Quay {
  private long id;
  private String name = "x";
  private Double depth;

  public long getId() {
    return id;
  }

  public void setId(long value) {
    id = value;
  }

  public String getName() {
    return name;
  }

  public void setName(String value) {
    name = value;
  }

  public Double getDepth() {
    return depth;
  }

  public void setDepth(Double value) {
    depth = value;
  }
}
