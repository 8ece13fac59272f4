// A sample by weight of more things than memory holds, in one pass: priority sampling (N. Duffield, C. Lund, M. Thorup, Journal of the ACM 54 (2007) 32).
// Own code: no package of the kind is among the project's, and what must not grow is a page of it.

export interface PrioritySample {
  /** One thing, copied: its numbers, its weight > 0, and a number of its own by chance in (0, 1). */
  add(numbers: Float64Array, weight: number, u: number): void
  /** The things that are left, in the order in which they came, each with what it counts for: sums over them estimate the sums over all without bias. */
  take(): { things: Weighed[]; all: boolean }
}

export interface Weighed {
  numbers: Float32Array
  weight: number
}

interface Thing extends Weighed {
  priority: number
  order: number
}

/**
 * At most `size` things. Each has the priority weight / u; the highest stay, and each of them counts for its weight, or for the highest priority that did
 * not stay where that is more. All of them with their own weights where they are no more than `size`. Holds twice as many at the most.
 */
export function makePrioritySample(size: number): PrioritySample {
  let things: Thing[] = []
  let order = 0
  /** What goes at once. */
  let below = 0

  function thin(): void {
    things = things.sort((a, b) => b.priority - a.priority).slice(0, size + 1)
    if (things.length > size) below = things.at(-1)?.priority ?? 0
  }

  return {
    add(numbers, weight, u) {
      const priority = weight / u
      order++
      if (priority < below) return
      things.push({ numbers: Float32Array.from(numbers), weight, priority, order })
      if (things.length > 2 * size) thin()
    },
    take() {
      thin()
      const all = things.length <= size
      const least = all ? 0 : below
      const left = things.slice(0, size).sort((a, b) => a.order - b.order)
      return { things: left.map(({ numbers, weight }) => ({ numbers, weight: Math.max(weight, least) })), all }
    },
  }
}
