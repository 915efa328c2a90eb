/** Reads compiled classes as data; none is ever loaded. */
package dev.colonnade.classfile;
