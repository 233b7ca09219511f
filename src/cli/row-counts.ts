/** What a copy holds, in one line. */
export function describeCounts(counts: ReadonlyMap<string, number>): string {
  return [...counts]
    .filter(([table]) => table !== 'session')
    .map(([table, count]) => `${table} ${count}`)
    .join(', ')
}
