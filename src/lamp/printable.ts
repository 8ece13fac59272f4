/** Without control and direction characters: what stands in a file could steer a terminal, or turn a sentence about. */
export const printable = (text: string): string => text.replace(/[\p{Cc}\p{Cf}\p{Cs}\u2028\u2029]/gu, '')
