// The only requestAnimationFrame in the project: many calls for one drawing, one frame.
const waiting = new Map<string, () => void>()
let asked = 0

/** Draw `name` in the next frame, once, however often it is asked for before that. */
export function redraw(name: string, draw: () => void): void {
  waiting.set(name, draw)
  if (asked === 0) asked = requestAnimationFrame(run)
}

function run(): void {
  asked = 0
  const now = [...waiting.values()]
  waiting.clear()
  for (const draw of now) draw()
}
