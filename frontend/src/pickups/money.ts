/**
 * Money as a language writes it: hundredths of a currency (ISO 4217), without a sign where that is
 * not known yet. Pure.
 */
export const moneyIn = (language: string, currency: string, cents: number): string =>
  new Intl.NumberFormat(language, {
    ...(currency === "" ? {} : { style: "currency", currency }),
    minimumFractionDigits: 2,
  }).format(cents / 100);
