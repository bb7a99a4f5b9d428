using System.Security.Claims;
using Microsoft.AspNetCore.DataProtection;
using Microsoft.AspNetCore.Http;
using Vanehour.Board.People;

namespace Vanehour.Board.Serving;

/// <summary>Who looks at a page, what they may do, and what the form before has left.</summary>
/// <param name="accessor">The request.</param>
/// <param name="people">The people.</param>
/// <param name="protection">Keys for what is left in cookies.</param>
internal sealed class Visit(IHttpContextAccessor accessor, PeopleFile people, IDataProtectionProvider protection)
{
    private bool hasTaken;
    private Flash? flash;

    /// <summary>Whether people sign in here at all.</summary>
    public bool NeedsSignIn => people.All().Count > 0;

    /// <summary>Who is signed in, or null.</summary>
    public string? Name => User is { Identity.IsAuthenticated: true } user ? user.Identity.Name : null;

    /// <summary>Whether forms are shown and taken.</summary>
    public bool MayEdit => !NeedsSignIn || (User is { Identity.IsAuthenticated: true } user && user.IsInRole(nameof(Role.Editor)));

    /// <summary>What the form before has left.</summary>
    public Flash? Said
    {
        get
        {
            if (!hasTaken && accessor.HttpContext is { } context)
            {
                hasTaken = true;
                flash = Flash.Take(context, protection);
            }

            return flash;
        }
    }

    /// <summary>What had been typed into a field of a form that was refused.</summary>
    public string? Typed(string form, string field) => Said is { Done: false } said && said.Form == form ? said.Typed.GetValueOrDefault(field) : null;

    private ClaimsPrincipal? User => accessor.HttpContext?.User;
}
