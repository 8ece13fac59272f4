export function PartsColumn() {
  return <aside aria-label="Parts" />
}
