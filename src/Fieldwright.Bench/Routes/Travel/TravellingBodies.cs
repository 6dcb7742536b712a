using Fieldwright.Bench.Model;
using Fieldwright.Fields;

namespace Fieldwright.Bench.Routes.Travel;

/// <summary>Bodies in steady motion as the field route sees them: matter that runs through a mesh at rest.</summary>
internal static class TravellingBodies
{
    /// <summary>Motion of every region that moves.</summary>
    public static Dictionary<int, RigidMotion> Motions(Apparatus apparatus, Sections sections)
    {
        var motions = new Dictionary<int, RigidMotion>();
        foreach (var part in apparatus.Parts)
        {
            var lead = apparatus.LeadOf(part);
            if (lead.Speed == 0 && lead.TurningSpeed == 0)
                continue;
            var velocity = apparatus.Layout == Layout.Round ? new PlaneVector(0, lead.Speed) : new PlaneVector(lead.Speed, 0);
            foreach (int region in sections.RegionsOf(part.Name))
                motions[region] = new RigidMotion(velocity, lead.TurningSpeed, new PlaneVector(lead.Place.X, lead.Place.Y));
        }

        return motions;
    }

    /// <summary>Regions of a part and of all that is fixed to it.</summary>
    public static IReadOnlyList<int> Regions(Apparatus apparatus, Sections sections, Part lead) => [.. apparatus.Body(lead).SelectMany(p => sections.RegionsOf(p.Name))];

    /// <summary>The torque on a cylinder that turns or may turn; null for any other part.</summary>
    public static ForceGoal? TorqueGoal(Apparatus apparatus, Sections sections, Part part) => Model.Travel.Leads(part) && part.Shape is CylinderShape && apparatus.Layout == Layout.Long
        ? new ForceGoal("torque " + part.Name, Regions(apparatus, sections, part), ForceComponent.Torque, new PlaneVector(part.Place.X, part.Place.Y)) : null;
}
