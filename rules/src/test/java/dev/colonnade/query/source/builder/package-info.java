/** Classes of a service that build SQL with a library, compiled with it. */
package dev.colonnade.query.source.builder;
