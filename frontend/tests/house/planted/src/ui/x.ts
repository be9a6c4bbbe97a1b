/** Planted: breaks one law of the house on purpose, never built. */
import "../store/x";
