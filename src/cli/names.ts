// Names of files that a command makes up, and the day.

/** Letters, digits, hyphens: a name that every file system takes. */
export const plainName = (text: string): string =>
  text
    .normalize('NFKD')
    .toLowerCase()
    .replace(/[^\p{L}\p{N}]+/gu, '-')
    .replace(/^-+|-+$/g, '')
    .slice(0, 100) || 'drawing'
