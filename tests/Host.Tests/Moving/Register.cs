namespace Vanehour.Host.Tests.Moving;

/// <summary>A register of one truck; invented.</summary>
internal static class Register
{
    public const string Models =
        "model,rated_speed_rpm,min_speed_rpm,max_speed_rpm,free_air_cfm,max_vacuum_inhg,max_pressure_psi,max_temperature_degf,flow_kept_limit\n"
        + "Alder 400,1200,1000,1400,400,20,20,350,0.75\n";

    public const string Trucks =
        "truck,yard,pump_model,pump_serial,pump_fitted,meter_at_fitting_h,tank_gal,time_zone\nT1,North,Alder 400,S-1,2026-01-05,100,3000,America/Chicago\n";
}
