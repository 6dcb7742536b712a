using Fieldwright.Bench.Claims;
using Fieldwright.Bench.Model;
using Fieldwright.Bench.Routes;
using Fieldwright.Circuits;
using Fieldwright.Circuits.Hydraulic;
using Fieldwright.Matter;

namespace Fieldwright.Bench.Analogues;

/// <summary>Where the likeness of two domains breaks, with the numbers of the board at hand.</summary>
/// <source key="White2011"/>
internal static class LikenessBreaks
{
    // Re at which a smooth pipe leaves Ohm's law; a tenth is where an audience would notice.
    private const double TurbulentFrom = 2000, Noticed = 0.1;

    // Common practice, no source: still air and glow together take 10 W/m²K from a bench-top surface; a small resistor bears a quarter watt; a penlight cell holds 2 Ah.
    private const double StillAir = 10, SmallResistor = 0.25, PenlightCell = 7200, CopperOverAir = 400 / 0.026;

    /// <summary>The list, those of this board first.</summary>
    public static IReadOnlyList<LikenessBreak> Of(Board original, NetworkState first, Board redrawn, NetworkState second, DomainWords from, DomainWords to, double flowScale, double? leaks)
    {
        var list = new List<LikenessBreak>();
        bool Is(BoardDomain d) => from.Domain == d || to.Domain == d;
        Board Side(BoardDomain d) => from.Domain == d ? original : redrawn;
        NetworkState State(BoardDomain d) => from.Domain == d ? first : second;
        if (Is(BoardDomain.Water))
            OfWater(list, Side(BoardDomain.Water), State(BoardDomain.Water), from.Domain == BoardDomain.Water ? to : from, from.Domain == BoardDomain.Water ? flowScale : 1 / flowScale);
        if (Is(BoardDomain.Magnetic))
            OfFlux(list, Side(BoardDomain.Magnetic), State(BoardDomain.Magnetic), from.Domain == BoardDomain.Magnetic ? (redrawn, second, to) : (original, first, from), leaks);
        if (Is(BoardDomain.Heat))
            OfHeat(list, Side(BoardDomain.Heat), State(BoardDomain.Heat));
        if (Is(BoardDomain.Electric))
            OfCurrent(list, Side(BoardDomain.Electric), State(BoardDomain.Electric));
        return list;
    }

    private static void OfWater(List<LikenessBreak> list, Board board, NetworkState state, DomainWords other, double toOther)
    {
        var pipes = board.Elements.OfType<PipeElement>().Where(p => state.Flow(p.Name) != 0).ToList();
        if (pipes.Count == 0)
            return;
        double Reynolds(PipeElement p) => 4 * Water.Density * Math.Abs(state.Flow(p.Name)) / (Math.PI * p.Bore * Water.Viscosity);
        var worst = pipes.MaxBy(Reynolds)!;
        double limit = TurbulentFrom * Math.PI * worst.Bore * Water.Viscosity / (4 * Water.Density), now = Math.Abs(state.Flow(worst.Name));
        double twice = Pipe.Friction(2 * TurbulentFrom, 0) / (64 / (2 * TurbulentFrom));
        list.Add(new LikenessBreak("turbulent pipe", $"Up to Re 2000 the drop goes with the flow, as Ohm's law has it; at Re 4000 '{worst.Name}' asks {Shown.Digits(twice, 2)} times what the law says. "
            + $"Its limit stands for {other.FlowText(limit * toOther)} of {other.Flow}. Re is now {Shown.Digits(Reynolds(worst), 3)}.",
            $"flow in '{worst.Name}'", Shown.In("mL/s").Of(limit), Shown.In("mL/s").Of(now), "mL/s", now < limit));
        double AreaOf(PipeElement p) => 0.25 * Math.PI * p.Bore * p.Bore;
        double Slope(PipeElement p) => 128 * Water.Viscosity * p.Length / (Math.PI * Math.Pow(p.Bore, 4));
        var hasty = pipes.MinBy(p => 2 * Noticed * Slope(p) * AreaOf(p) * AreaOf(p) / (Water.Density * Math.Abs(state.Flow(p.Name))))!;
        double spent = 2 * Noticed * Slope(hasty) * AreaOf(hasty) * AreaOf(hasty) / Water.Density;
        list.Add(new LikenessBreak("water has weight", $"At every mouth water spends ρv²/2 on its own speed, which no current does; beyond this flow that is more than a tenth of the drop along '{hasty.Name}'. Make tubes long.",
            $"flow in '{hasty.Name}'", Shown.In("mL/s").Of(spent), Shown.In("mL/s").Of(Math.Abs(state.Flow(hasty.Name))), "mL/s", Math.Abs(state.Flow(hasty.Name)) < spent));
        double pressure = board.Nodes.Max(n => Math.Abs(BoardRoute.Potential(state, board, n))), even = AreaOf(worst) * Math.Sqrt(pressure / Water.Density);
        list.Add(new LikenessBreak("flexible hose and flexible coil", "A soft hose opens out under its pressure, even with its end stopped; a loop of wire opens out by its current alone. "
            + $"Only beyond this flow does the push of the moving water, ρq²/A, overtake that of the pressure, {Shown.Digits(1e3 * pressure * AreaOf(worst), 2)} mN.",
            $"flow in '{worst.Name}'", Shown.In("mL/s").Of(even), Shown.In("mL/s").Of(now), "mL/s", now > even));
    }

    private static void OfFlux(List<LikenessBreak> list, Board board, NetworkState state, (Board Board, NetworkState State, DomainWords Words) other, double? leaks)
    {
        if (leaks is { } share)
            list.Add(new LikenessBreak("leakage of flux", share >= 1 ? "All of this flux goes through air on every side; no wire or pipe would let its flow out like that, and where the flux goes the circuit cannot say."
                : $"Of the flux {Shown.Digits(100 * share, 3)} % never reaches the far side of the ring. It is drawn as one element; in truth it leaves all along, as current from a wire never would.",
                "share of the flux that leaks", 100 * Noticed, 100 * share, "%", share < Noticed));
        foreach (var bar in board.Elements.OfType<BarElement>().Where(b => b.Of.Curve is not null || b.Of.RelativePermeability > 2))
        {
            double flux = Math.Abs(state.Flow(bar.Name)), drop = Math.Abs(BoardRoute.Potential(state, board, bar.From) - BoardRoute.Potential(state, board, bar.To));
            if (drop == 0)
                continue;
            double now = flux * bar.Length / (drop * bar.Area * PhysicalConstants.MagneticConstant), needed = bar.Length * bar.Length / (Noticed * bar.Area);
            list.Add(new LikenessBreak("no magnetic insulator", $"Air conducts flux, only μr times worse than steel; copper beats air by some twenty powers of ten (from memory). Below this permeability the air beside '{bar.Name}' carries more than a tenth of its flux (its permeance taken as μ₀ times its length: common practice, no source).",
                $"relative permeability of '{bar.Name}'", needed, now, "", now > needed));
            if (bar.Of.Curve is { } curve && Knee(curve) is { } knee)
                list.Add(new LikenessBreak("steel fills up", $"A resistor keeps its resistance; '{bar.Name}' has lost a tenth of its best permeability at this flux and loses the rest soon after.",
                    $"flux in '{bar.Name}'", Shown.In("µWb").Of(knee * bar.Area), Shown.In("µWb").Of(flux), "µWb", flux < knee * bar.Area));
        }

        double stored = 0.5 * Math.Abs(board.Elements.Where(e => e is DriveElement or MagnetElement or FlowElement).Sum(e => (BoardRoute.Potential(state, board, e.To) - BoardRoute.Potential(state, board, e.From)) * BoardRoute.Flow(state, e)));
        double spent = other.Board.Elements.Where(e => e is not (DriveElement or FlowElement)).Sum(e => Math.Abs((BoardRoute.Potential(other.State, other.Board, e.From) - BoardRoute.Potential(other.State, other.Board, e.To)) * other.State.Flow(e.Name)));
        if (other.Words.Domain == BoardDomain.Heat)
            list.Add(new LikenessBreak("reluctance stores", "A field holds its energy at no cost and gives it back; heat that has gone through a bar has come down in temperature for good. Ampere-turns times flux is twice an energy; kelvin times watt is nothing of the kind.",
                "energy held", 0, stored, "J", false));
        else if (spent > 0)
            list.Add(new LikenessBreak("reluctance stores and does not heat", $"The field holds {Shown.Digits(1e3 * stored, 3)} mJ and needs nothing to keep it but what the wire burns; the {other.Words.Word} board turns {Shown.Digits(1e3 * spent, 3)} mW into heat all the while. After this time it has spent as much as the field holds.",
                "time the board runs, a minute taken", stored / spent, 60, "s", stored / spent > 60));
        if (other.Words.Domain == BoardDomain.Electric)
        {
            double current = other.Board.Elements.OfType<DriveElement>().Select(e => Math.Abs(BoardRoute.Flow(other.State, e))).DefaultIfEmpty(0).Max();
            if (current > 0)
                list.Add(new LikenessBreak("permanent magnets", "A magnet in place of the winding drives its flux for ever and needs no supply; the cell that stands for it (2 Ah, common practice) is empty after this time. And a magnet is a weak cell: its own reluctance is that of as much air as it is long.",
                    "time the board runs, an evening of 2 h taken", PenlightCell / current / 3600, 2, "h", PenlightCell / current / 3600 > 2));
        }

        foreach (var magnet in board.Elements.OfType<MagnetElement>())
        {
            double flux = state.Flow(magnet.Name), b = flux / magnet.Area;
            list.Add(new LikenessBreak("permanent magnets", $"A cell runs down; '{magnet.Name}' does not, but driven back beyond the foot of its line it is spoiled for good (its material may give way sooner when hot: ask its maker).",
                $"flux density in '{magnet.Name}'", 0, b, "T", b > 0));
        }
    }

    private static void OfHeat(List<LikenessBreak> list, Board board, NetworkState state)
    {
        double most = board.Nodes.Max(n => Math.Abs(BoardRoute.Potential(state, board, n)));
        // (T₁² + T₂²)(T₁ + T₂) against 4 T₂³ from 293 K on.
        double Excess(double rise) => (Math.Pow(293 + rise, 2) + 293 * 293.0) * (586 + rise) / (4 * Math.Pow(293, 3)) - 1;
        double low = 0, high = 500;
        for (int i = 0; i < 60; i++)
            (low, high) = Excess(0.5 * (low + high)) < Noticed ? (0.5 * (low + high), high) : (low, 0.5 * (low + high));
        list.Add(new LikenessBreak("glow is not Ohm's law", "What radiates goes with the fourth power of temperature: from this rise above the hall on a tenth more leaves than the straight law says.", "rise above the hall", low, most, "K", most < low));
        var bars = board.Elements.OfType<BarElement>().ToList();
        if (bars.Count > 0)
        {
            double Leak(BarElement b) => StillAir * 4 * Math.Sqrt(b.Area) * b.Length * b.Length / (b.Of.ThermalConductivity!.Value * b.Area);
            var longest = bars.MaxBy(Leak)!;
            double limit = longest.Length * Math.Sqrt(Noticed / Leak(longest));
            list.Add(new LikenessBreak("no insulator for heat", $"Copper conducts heat only {Shown.Digits(CopperOverAir, 2)} times better than air (from memory); a bare bar of '{longest.Name}' longer than this loses more than a tenth of its flow through its sides, at 10 W/m²K (common practice, no source).",
                $"length of '{longest.Name}'", Shown.In("mm").Of(limit), Shown.In("mm").Of(longest.Length), "mm", longest.Length < limit));
        }
    }

    private static void OfCurrent(List<LikenessBreak> list, Board board, NetworkState state)
    {
        var resistors = board.Elements.OfType<StraightElement>().Where(r => r.Resistance < 1e12).ToList();
        if (resistors.Count == 0)
            return;
        double Power(StraightElement r) => r.Resistance * state.Flow(r.Name) * state.Flow(r.Name);
        var hottest = resistors.MaxBy(Power)!;
        double limit = Math.Sqrt(SmallResistor / hottest.Resistance), now = Math.Abs(state.Flow(hottest.Name));
        list.Add(new LikenessBreak("a resistor warms", $"A small resistor bears a quarter of a watt (common practice, no source): beyond this current '{hottest.Name}' drifts, then smokes. Take a larger one, or many.",
            $"current in '{hottest.Name}'", Shown.In("mA").Of(limit), Shown.In("mA").Of(now), "mA", now < limit));
    }

    // Flux density past the best permeability at which a tenth of it is gone; null when it never is.
    private static double? Knee(BhCurve curve)
    {
        double best = 0;
        for (double h = 5; h < 1e5; h *= 1.03)
        {
            double b = curve.FluxDensity(h), mu = b / h;
            if (mu > best)
                best = mu;
            else if (mu < (1 - Noticed) * best)
                return b;
        }

        return null;
    }
}
