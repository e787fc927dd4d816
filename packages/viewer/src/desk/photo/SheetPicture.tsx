/** Small drawings beside the three steps. */
export function SheetPicture({ picture }: { picture: 'trace' | 'photograph' | 'follow' }) {
  return (
    <svg className="photo-picture" viewBox="0 0 120 76" aria-hidden="true">
      {PICTURES[picture]}
    </svg>
  );
}

const CURVE = 'M20 56C30 52 38 34 48 27C54 23 66 23 72 27C82 34 90 52 100 56';

const marks = <path className="mark" d="M12 10h8v8h-8zM100 10h8v8h-8zM12 58h8v8h-8zM100 58h8v8h-8z" />;

const PICTURES = {
  trace: (
    <>
      <rect className="paper" x="8" y="6" width="104" height="64" />
      {marks}
      <path className="level" d="M26 20H94" />
      <path className="middle" d="M60 14V62" />
      <path className="pen" d={CURVE} />
    </>
  ),
  photograph: (
    <>
      <path className="paper" d="M22 58L98 58L112 72L8 72Z" />
      <path className="ray" d="M60 20L22 58M60 20L98 58" />
      <rect className="camera" x="46" y="6" width="28" height="15" rx="2" />
      <circle className="camera" cx="60" cy="19" r="5" />
      <path className="size" d="M106 20V58M103 24L106 20L109 24M103 54L106 58L109 54" />
    </>
  ),
  follow: (
    <>
      <path className="paper" d="M14 8L108 4L112 70L8 66Z" />
      <path className="pen" d={CURVE} />
      {[
        [20, 56],
        [38, 37],
        [60, 24],
        [82, 37],
        [100, 56],
      ].map(([x, y]) => (
        <circle key={x} className="knob" cx={x} cy={y} r="3.4" />
      ))}
    </>
  ),
} as const;
