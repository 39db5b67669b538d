/** One sun in the section: its beam, the eave's shade, and the ray that parts them. */
import { reach } from "../../geometry/roof";
import { beamPolygon, OPEN_AIR, type Section, shadeRay, shades } from "../../geometry/section";
import { corners, type View } from "./view";

interface Props {
  view: View;
  wall: Section;
  profile: number | null;
}

export function Sunlight({ view, wall, profile }: Props) {
  const beam = beamPolygon(wall, profile, reach(wall.roof) + OPEN_AIR);
  const ray = shadeRay(wall, profile, -view.left, view.high);
  return (
    <g>
      {beam.length > 0 && <polygon points={corners(view, beam)} fill="url(#beam)" class="beam" />}
      {shades(wall, profile).map((shade, i) => (
        <polygon key={String(i)} points={corners(view, shade)} class="shade" />
      ))}
      {ray.length > 0 && <polyline points={corners(view, ray)} class="ray" />}
    </g>
  );
}
