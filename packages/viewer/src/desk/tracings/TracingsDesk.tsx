export default function TracingsDesk({ fileName }: { fileName: string; source: unknown }) {
  return <p className="desk-wait soft">Not built yet: {fileName}.</p>;
}
