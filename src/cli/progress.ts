// A bar on stderr, redrawn in place, when stderr is a terminal; otherwise nothing is drawn. A parent process gets it either way.
import { whole } from './format.ts'
import type { Io } from './io.ts'

export interface Progress {
  show(at: { rays: number; maxRays: number }): void
  /** Clears the line. */
  end(): void
}

/** `words`: text of the progress; by default that of a trace. */
export function progressOn(io: Io, words: (done: number, all: number) => string = traceWords): Progress {
  const columns = io.errColumns
  const tell = ({ rays, maxRays }: { rays: number; maxRays: number }) => io.tell?.({ done: rays, all: maxRays })
  if (columns === null) return { show: tell, end: () => {} }
  let last = ''
  return {
    show({ rays, maxRays }) {
      tell({ rays, maxRays })
      const share = Math.min(1, rays / maxRays)
      const tail = ` ${String(Math.floor(share * 100)).padStart(3)} %  ${words(rays, maxRays)}`
      const cells = Math.max(0, Math.min(30, columns - tail.length - 3))
      const full = Math.round(share * cells)
      const line = `[${'='.repeat(full)}${' '.repeat(cells - full)}]${tail}`.slice(0, Math.max(0, columns - 1))
      if (line !== last) io.err(`\r\x1b[K${line}`)
      last = line
    },
    end() {
      if (last !== '') io.err('\r\x1b[K')
      last = ''
    },
  }
}

/** The sun and the variants are traced after the lamp itself. */
const traceWords = (rays: number, maxRays: number): string =>
  rays < maxRays ? `${whole(rays)} of ${whole(maxRays)} rays` : 'now the sun, and what each part adds'
