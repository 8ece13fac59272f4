// Round steps of scales: 1, 2, 5 times a power of ten. Own code, because d3-scale rounds domains and ticks, not a single length.

const NICE = [1, 1.5, 2, 3, 4, 5, 6, 8, 10]

export function niceBelow(value: number): number {
  const ten = 10 ** Math.floor(Math.log10(value))
  const lead = value / ten
  return (lead >= 5 ? 5 : lead >= 2 ? 2 : 1) * ten
}
export function niceAbove(value: number): number {
  if (!(value > 0)) return 1
  const ten = 10 ** Math.floor(Math.log10(value) + 1e-9)
  return NICE.find((n) => n * ten >= value * 0.9999)! * ten
}
