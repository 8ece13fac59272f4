// Icons of the tool strip: boards as bars, and the line they align to.
const PATHS = {
  column: 'M8 1v14M3.5 3.5h9v3h-9zM5.5 9.5h5v3h-5z',
  row: 'M1 8h14M3.5 3.5v9h3v-9zM9.5 5.5v5h3v-5z',
  gapsAcross: 'M2.5 4v8M13.5 4v8M6.5 4h3v8h-3z',
  gapsUp: 'M4 2.5h8M4 13.5h8M4 6.5v3h8v-3z',
  mirrorX: 'M8 1v2M8 5v2M8 9v2M8 13v2M5.5 4v8L1.5 12zM10.5 4v8l4 0z',
  mirrorY: 'M1 8h2M5 8h2M9 8h2M13 8h2M4 5.5h8V1.5zM4 10.5h8v4z',
  ring: 'M8 3a5 5 0 1 0 .01 0zM6.6 1.6h2.8v2.8H6.6zM1.6 8.4h2.8v2.8H1.6zM11.6 8.4h2.8v2.8h-2.8z',
  line: 'M2 14L14 2M1.5 11.5h3v3h-3zM6.5 6.5h3v3h-3zM11.5 1.5h3v3h-3z',
  arc: 'M2.5 12a5.5 5.5 0 0 1 11 0M1 10.5h3v3H1zM6.5 5h3v3h-3zM12 10.5h3v3h-3z',
  centre: 'M8 1v14M1 8h14M4.5 4.5h7v7h-7z',
  outline: 'M3.5 5l7-2.5 3 6-4 5-6-2.5zM2.3 3.8h2.4v2.4H2.3zM9.3 1.3h2.4v2.4H9.3zM8.3 12.3h2.4v2.4H8.3z',
  copy: 'M2.5 2.5h7v7h-7zM6.5 11.5v2h7v-7h-2',
  turnLeft: 'M4 6.5A5 5 0 1 1 3.4 10M4.2 2.5v4h4',
  turnRight: 'M12 6.5A5 5 0 1 0 12.6 10M11.8 2.5v4h-4',
  away: 'M3.5 3.5l9 9M12.5 3.5l-9 9',
  closer: 'M8 3v10M3 8h10',
  farther: 'M3 8h10',
  whole: 'M2 5V2h3M11 2h3v3M14 11v3h-3M5 14H2v-3M8 5.5a2.5 2.5 0 1 0 .01 0z',
} as const
export type GlyphName = keyof typeof PATHS

export const PlanGlyph = ({ of }: { of: GlyphName }) => (
  <svg className="plan-glyph" viewBox="0 0 16 16" aria-hidden="true">
    <path d={PATHS[of]} />
  </svg>
)
