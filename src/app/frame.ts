// The only requestAnimationFrame in the project: many calls for one drawing, one frame.
const waiting = new Map<string, () => void>()
let asked = 0

/**
 * Draw `name` in the next frame, once, however often it is asked for before that. What a drawing asks for besides itself is drawn in its own
 * frame: a sheet that comes on the page and the pictures made from it are seen together.
 */
export function redraw(name: string, draw: () => void): void {
  waiting.set(name, draw)
  if (asked === 0) asked = requestAnimationFrame(run)
}

function run(): void {
  const drawn = new Set<string>()
  try {
    for (let next = undrawn(drawn); next; next = undrawn(drawn)) {
      const [name, draw] = next
      waiting.delete(name)
      drawn.add(name)
      draw()
    }
  } finally {
    // Also after one that failed: the others come with the next frame.
    asked = waiting.size > 0 ? requestAnimationFrame(run) : 0
  }
}

const undrawn = (drawn: ReadonlySet<string>) => [...waiting].find(([name]) => !drawn.has(name))
