// One parameter of a sweep and its range.
export interface RangeChoice {
  path: string
  from: number
  to: number
  count: number
}
