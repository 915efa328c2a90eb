/** Where things stand in the files of the service under check. */
package dev.colonnade.location;
