/** One sun in the section: its beam, the eave's shade, and the ray that parts them. */
import { beamPolygon, shadeLine, shadePolygons, shadingEdge, type WallSection } from "../../geometry/section";
import { corners, type View } from "./view";

const OPEN_AIR = 0.35; // m of the beam shown before the eave

export function Sunlight({ view, wall, profile }: { view: View; wall: WallSection; profile: number | null }) {
  if (profile === null) return null;
  const out = wall.roof.projection + (wall.roof.gutter?.width ?? 0);
  const beam = beamPolygon(wall, profile, out + OPEN_AIR);
  const edge = shadeLine(wall, profile);
  const slope = Math.tan((profile * Math.PI) / 180);
  const [x, y] = shadingEdge(wall.roof, profile);
  const rise = Math.min((x - view.left) * slope, view.high - y);
  const low = Math.max(edge, wall.ground);
  return (
    <g>
      {beam.length > 0 && <polygon points={corners(view, beam)} fill="url(#beam)" />}
      {shadePolygons(wall, profile).map((shade) => (
        <polygon points={corners(view, shade)} class="shade" />
      ))}
      {out > 0 && (
        <polyline points={corners(view, [[x - rise / slope, y + rise], [(edge - low) / slope, low]])} class="ray" />
      )}
    </g>
  );
}
