// What the lamp's own trace waits for: a panel that computes on the same cores.

export type TraceHolder = 'danger' | 'sweep' | 'readings' | 'compare' | 'optimize'

const HOLDER_WORDS: Record<TraceHolder, string> = {
  danger: 'the search for dangers',
  sweep: 'the sweep',
  readings: 'the fit to your readings',
  compare: 'the comparison',
  optimize: 'the search',
}

/** 'the search', 'the search and the comparison'; empty where nothing holds the trace. */
export const holderWords = (holders: readonly TraceHolder[]): string =>
  holders.map((h) => HOLDER_WORDS[h]).join(' and ')
