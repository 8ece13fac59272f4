// Names from a lamp in the cells of a table for spreadsheets.

/**
 * Text for a cell: control and direction characters become spaces, and what a spreadsheet would run as a formula (it begins with = + - @, full-width ones
 * included, or with a tab or a line break) gets an apostrophe in front.
 */
export function safeCell(text: string): string {
  const shown = text.replace(/[\p{Cc}\p{Cf}\u2028\u2029]/gu, ' ')
  return /^\s*[=+\-@＝＋－＠]/u.test(shown) || /^[\t\r\n]/.test(text) ? `'${shown}` : shown
}
