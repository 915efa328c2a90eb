/**
 * Reads statements of MyBatis, from mapper files and scripts in annotations. The dynamic parts are
 * carried out on abstract parameters, of which only presence and a few constants are known: each
 * text that can come out is a variant. No expression of the service is ever evaluated.
 */
package dev.colonnade.query.mapper;
