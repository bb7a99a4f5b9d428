namespace Vanehour.Fleet.Import;

/// <summary>Which of the register's files a CSV file is; read off its header. Files are imported in this order.</summary>
public enum RegisterFileKind
{
    PumpModels,
    Trucks,
    ServiceRecords,
}
