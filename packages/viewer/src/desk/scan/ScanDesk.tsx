export default function ScanDesk({ fileName }: { fileName: string; bytes: Uint8Array }) {
  return <p className="desk-wait soft">Not built yet: {fileName}.</p>;
}
