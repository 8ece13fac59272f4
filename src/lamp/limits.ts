// Limits no real workshop lamp exceeds. They keep a hostile or mistaken file from hanging the program.
export const LIMITS = {
  emitters: 10_000,
  boards: 2_000,
  sitesPerBoard: 400,
  types: 64,
  lengthMm: 10_000,
  faceMm: 2_000,
  lensMm: 2_000,
  rings: 20_000,
  tableRows: 400,
  textChars: 2_000,
} as const
