// Own code: a date's own words for the date are by Greenwich.

/** The date by the local calendar, ISO 8601 (2026-01-31): whoever draws late in the evening writes the date of that evening. */
export function localDate(now = new Date()): string {
  const two = (x: number) => String(x).padStart(2, '0')
  return `${now.getFullYear()}-${two(now.getMonth() + 1)}-${two(now.getDate())}`
}
