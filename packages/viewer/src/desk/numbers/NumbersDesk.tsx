export default function NumbersDesk() {
  return <p className="desk-wait soft">Not built yet.</p>;
}
