export function SolidView() {
  return <div className="solid-view" />
}
