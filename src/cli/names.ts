// Names of files that a command makes up, and the day.

/** Letters, digits, hyphens: a name that every file system takes. */
export const plainName = (text: string): string =>
  text
    .normalize('NFKD')
    .toLowerCase()
    .replace(/[^\p{L}\p{N}]+/gu, '-')
    .replace(/^-+|-+$/g, '')
    .slice(0, 100) || 'drawing'

/** By the local calendar, ISO 8601. */
export function today(): string {
  const now = new Date()
  const two = (x: number) => String(x).padStart(2, '0')
  return `${now.getFullYear()}-${two(now.getMonth() + 1)}-${two(now.getDate())}`
}
