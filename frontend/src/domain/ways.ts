/**
 * Addresses that a phone hands to its own map and its own dialler: geo: of RFC 5870, with the query
 * that map programs commonly understand (common practice, no published source), and tel: of
 * RFC 3966. Pure.
 */
import type { Yard } from "./rows";

/** The way to a yard; null where neither its place nor its address is known. */
export function geoUri({
  lat = null,
  lon = null,
  address,
  name,
  customer_name,
}: Yard): string | null {
  if (lat !== null && lon !== null) {
    const at = `${degrees(lat)},${degrees(lon)}`;
    return `geo:${at}?q=${at}(${encodeURIComponent(`${customer_name}, ${name}`)})`;
  }
  return address.trim() === "" ? null : `geo:0,0?q=${encodeURIComponent(address.trim())}`;
}

/** Never with an exponent, which the grammar does not know. */
const degrees = (value: number): string => value.toFixed(6).replace(/\.?0+$/, "");

/** A number as somebody has typed it; null where it is none. An extension goes along. */
export function telUri(typed: string): string | null {
  const [main = "", more = ""] = typed.split(/(?:ext\.?|x|#)\s*/i);
  const digits = main.replace(/\D/g, "");
  if (digits.length < 3) return null;
  const extension = more.replace(/\D/g, "");
  const plus = main.trim().startsWith("+") ? "+" : "";
  return `tel:${plus}${digits}${extension === "" ? "" : `;ext=${extension}`}`;
}
