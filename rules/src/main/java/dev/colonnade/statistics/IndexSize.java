package dev.colonnade.statistics;

/**
 * Size of an index.
 *
 * @param entries number of entries
 * @param entryBytes bytes of one leaf entry with everything that belongs to it
 * @param entriesPerLeaf entries of a leaf page as filled when the index is built
 * @param leafPages pages of the lowest level; at least 1
 * @param height levels above the leaf pages: 0 for an index of one page
 * @param totalPages pages of all levels and the page that describes the index, where there is one
 * @param confidence how far the numbers can be trusted
 */
public record IndexSize(
    double entries,
    double entryBytes,
    double entriesPerLeaf,
    double leafPages,
    int height,
    double totalPages,
    Confidence confidence) {

  /** Leaf pages that a contiguous stretch of so many entries lies on; 0 for none. */
  public double leafPagesFor(double stretch) {
    if (stretch <= 0) {
      return 0;
    }
    return Math.min(leafPages, Math.max(1, Math.ceil(stretch / entriesPerLeaf)));
  }

  /** Pages read on the way from the root to the first entry, its leaf page included. */
  public int pagesOfDescent() {
    return height + 1;
  }
}
