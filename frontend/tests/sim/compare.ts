/** What a phone knows laid beside what a fresh phone of its store is told: every difference named. */
export type Row = { entity: string; id: string; version: number; body: unknown };

export function compare(
  mine: Row[],
  fresh: Map<string, Row>,
): { compared: number; differs: string[] } {
  const differs: string[] = [];
  const seen = new Set<string>();
  for (const row of mine) {
    const key = `${row.entity} ${row.id}`;
    seen.add(key);
    const other = fresh.get(key);
    if (other === undefined) differs.push(`${key}: only here`);
    else if (row.version !== other.version)
      differs.push(`${key}: ${row.version}, not ${other.version}`);
    else if (JSON.stringify(row.body) !== JSON.stringify(other.body)) differs.push(`${key}: body`);
  }
  for (const key of fresh.keys()) if (!seen.has(key)) differs.push(`${key}: missing here`);
  return { compared: mine.length, differs };
}
