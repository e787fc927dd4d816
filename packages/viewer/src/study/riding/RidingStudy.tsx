export default function RidingStudy() {
  return <p className="soft">Not built yet.</p>;
}
