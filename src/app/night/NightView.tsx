export function NightView() {
  return <div className="night-view" />
}
