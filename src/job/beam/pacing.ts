// Which sheets are read on the way to the settled one: by time, since rays come far faster than a large lamp can be read. Nothing that is settled
// depends on it.

export interface Pacing {
  /** The first sheet has been read, in so many ms; null: elsewhere. */
  begin(ms: number | null): void
  /** Another reading is worth its time now. */
  mayRead(): boolean
  /** Also with a search in front of the lamp, the dearest part of it. */
  maySearch(): boolean
  /** A reading has taken so long. */
  took(ms: number, searched: boolean): void
}

/** Readings on the way take no more than this share of the time since the first sheet. */
const SHARE = 0.25
/** A search in front of the lamp, as many times the time of the first sheet; until one has been timed. */
const SEARCH_TIMES = 8
/** Of a first sheet that is read elsewhere, ms. */
const ELSEWHERE_MS = 50

/** `now`: a clock, ms. */
export function makePacing(now: () => number): Pacing {
  let began = now()
  let spent = 0
  let readMs = 0
  let searchMs = 0
  const affords = (ms: number) => spent + ms <= SHARE * (now() - began)
  return {
    begin(ms) {
      began = now()
      readMs = ms ?? ELSEWHERE_MS
      searchMs = SEARCH_TIMES * readMs
    },
    mayRead: () => affords(readMs),
    maySearch: () => affords(searchMs),
    took(ms, searched) {
      spent += ms
      if (searched) searchMs = ms
      else readMs = ms
    },
  }
}
