/** A moment relative to now: "just now", "12 min ago", "today 14:05", "3 Mar 14:05". */
export function whenText(at: number, now = Date.now()): string {
  const minutes = Math.floor((now - at) / 60_000)
  if (minutes < 1) return 'just now'
  if (minutes < 60) return `${minutes} min ago`
  const then = new Date(at)
  const clock = `${String(then.getHours()).padStart(2, '0')}:${String(then.getMinutes()).padStart(2, '0')}`
  if (new Date(now).toDateString() === then.toDateString()) return `today ${clock}`
  return `${then.getDate()} ${then.toLocaleString('en', { month: 'short' })} ${clock}`
}
