export function SheetColumn() {
  return <aside aria-label="Beam sheet" />
}
