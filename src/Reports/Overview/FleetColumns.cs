namespace Vanehour.Reports.Overview;

/// <summary>Where the columns of the overview stand, layout units from the left edge of the page.</summary>
internal static class FleetColumns
{
    public const double Truck = HouseStyle.PageMargin;
    public const double TruckWidth = 150;
    public const double Findings = 178;
    public const double FindingsWidth = 172;
    public const double Wear = 364;
    public const double WearWidth = 106;
    public const double Limit = 492;
    public const double LimitWidth = 190;
    public const double Oil = 710;
    public const double Temperature = 758;

    /// <summary>The wear at the right end of its column.</summary>
    public const double HighestWear = 1.25;
}
