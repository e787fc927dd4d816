export default function ShoulderStudy() {
  return <p className="soft">Not built yet.</p>;
}
