/** Which index would serve a query best: the column orders worth comparing, each worked out. */
package dev.colonnade.design;
