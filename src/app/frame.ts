// The only requestAnimationFrame in the project: repeated requests for one drawing share a frame.
const queued = new Map<string, () => void>()
let handle = 0

/**
 * Draws `name` in the next frame, once, however often it is requested before that. A drawing that is requested by another drawing runs
 * in the same frame: a new sheet and the pictures made from it appear together.
 */
export function redraw(name: string, draw: () => void): void {
  queued.set(name, draw)
  if (handle === 0) handle = requestAnimationFrame(run)
}

function run(): void {
  const drawn = new Set<string>()
  try {
    for (let next = undrawn(drawn); next; next = undrawn(drawn)) {
      const [name, draw] = next
      queued.delete(name)
      drawn.add(name)
      draw()
    }
  } finally {
    // Also after a drawing that throws: the others are drawn in the next frame.
    handle = queued.size > 0 ? requestAnimationFrame(run) : 0
  }
}

const undrawn = (drawn: ReadonlySet<string>) => [...queued].find(([name]) => !drawn.has(name))
