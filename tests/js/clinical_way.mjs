// Plain calls of kit, depth, patterns and balloon. The same names as in
// tests/support/clinical_calls_way.py.
import { atriumTickCm, tickFormula } from "../../static/js/clinical/atrium_tick.js";
import { bandsFor } from "../../static/js/clinical/bands.js";
import { depthByRings } from "../../static/js/clinical/coil.js";
import { decimal } from "../../static/js/clinical/exact.js";
import { resultsFor, stMv } from "../../static/js/clinical/guidance.js";
import { kitFit, outerDiameterMm } from "../../static/js/clinical/kit.js";
import { expectedOrder, isUpper, siteSide } from "../../static/js/clinical/sites.js";

/** Return the calls by name; `limitsOf` gives the limits an input is judged by. */
export function callsWay(limitsOf) {
  return {
    kit_fit: (g) => kitFit(g.sheath, g.wire, limitsOf(g)),
    outer_diameter: (g) => outerDiameterMm(g.fr),
    bands_for: (g) => bandsFor(g.site, g.side, g.is_adult ?? true),
    atrium_tick: (g) => {
      const told = [g.height, g.site, g.side, g.is_adult ?? true];
      return { cm: atriumTickCm(...told), formula: tickFormula(...told) };
    },
    site: (g) => {
      const [site, side] = siteSide(g.code);
      return { site, side, order: expectedOrder(site), is_upper: isUpper(g.code ?? "") };
    },
    depth_by_rings: (g) => {
      const found = depthByRings(g.rings, g.beyond);
      return found && decimal(found);
    },
    results_for: (g) => resultsFor(g.guide, g.p_waves),
    st_mv: (g) => stMv(g.mm, g.gain),
  };
}
