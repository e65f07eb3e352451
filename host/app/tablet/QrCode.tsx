import { useMemo } from "react";
import { encode } from "uqr";

/** A QR code (ISO/IEC 18004) in black on white whatever the light, with its quiet margin of four. */
export function QrCode({ text, label }: { readonly text: string; readonly label: string }) {
  const { size, path } = useMemo(() => {
    const { data, size: modules } = encode(text, { ecc: "M", border: 4 });
    const dark = data.flatMap((row, y) => row.flatMap((on, x) => (on ? [`M${x} ${y}h1v1h-1z`] : [])));
    return { size: modules, path: dark.join("") };
  }, [text]);
  return (
    <svg className="tablet-qr" viewBox={`0 0 ${size} ${size}`} role="img" aria-label={label}>
      <path d={`M0 0h${size}v${size}h-${size}z`} fill="#fff" />
      <path d={path} fill="#000" shapeRendering="crispEdges" />
    </svg>
  );
}
