using System.Globalization;
using System.Security.Claims;
using Microsoft.AspNetCore.Authentication;
using Microsoft.AspNetCore.Authentication.Cookies;
using Microsoft.AspNetCore.Http;

namespace Vanehour.Board.People;

/// <summary>Who somebody is, from request to request.</summary>
internal static class Signing
{
    private const string SinceClaim = "since";

    /// <summary>Signs somebody in.</summary>
    public static Task InAsync(HttpContext context, Person person)
    {
        var identity = new ClaimsIdentity(
            [
                new Claim(ClaimTypes.Name, person.Name),
                new Claim(ClaimTypes.Role, person.Role.ToString()),
                new Claim(SinceClaim, Since(person)),
            ],
            CookieAuthenticationDefaults.AuthenticationScheme);
        return context.SignInAsync(CookieAuthenticationDefaults.AuthenticationScheme, new ClaimsPrincipal(identity));
    }

    /// <summary>Signs somebody out whose name is gone, or whose password or role has changed since.</summary>
    public static async Task ValidateAsync(CookieValidatePrincipalContext context, PeopleFile people)
    {
        Person? person;
        try
        {
            person = context.Principal?.Identity?.Name is { } name ? people.Find(name) : null;
        }
        catch (PeopleException)
        {
            // The guard says what is wrong with the file; until it is right nobody is known.
            person = null;
        }

        if (person is null || context.Principal!.FindFirst(SinceClaim)?.Value != Since(person) || !context.Principal.IsInRole(person.Role.ToString()))
        {
            context.RejectPrincipal();
            await context.HttpContext.SignOutAsync(CookieAuthenticationDefaults.AuthenticationScheme);
        }
    }

    private static string Since(Person person) => person.Since.UtcTicks.ToString(CultureInfo.InvariantCulture);
}
